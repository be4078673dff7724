package indwell.fhir.map;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.validation.HapiProfileValidator;
import indwell.contract.SharedValidator;
import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventVersion;
import indwell.domain.event.Ward;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagSpan;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.DayCount;
import indwell.domain.timeline.Timeline;
import indwell.fhir.RandomEvents;
import indwell.fhir.Told;
import indwell.port.ProfileValidator.Finding;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.hl7.fhir.r4.model.Resource;

/** Whatever happened, what is made of it meets its profile. */
class ProfilesTest {
  private static final HapiProfileValidator VALIDATOR = SharedValidator.WARM;
  private static final Instant RECEIVED = Instant.parse("2026-07-01T08:00:00.017Z");

  @Property(tries = 60)
  void every_resource_of_a_plan_meets_its_profile_also_when_entered_in_error(
      @ForAll("histories") List<BedsideEvent> events) {
    ResourcePlan plan = ResourcePlan.of(Timeline.of(events), Told.BERLIN);

    for (Draft draft : plan.drafts()) {
      assertValid(draft.build());
      EnteredInError.mark(draft.build()).ifPresent(ProfilesTest::assertValid);
    }
  }

  @Property(tries = 20)
  void every_provenance_meets_its_profile(@ForAll("histories") List<BedsideEvent> events) {
    ResourcePlan plan = ResourcePlan.of(Timeline.of(events), Told.BERLIN);

    for (BedsideEvent event : events) {
      List<ResourceId> targets = plan.drafts(event.key()).stream().map(Draft::id).toList();
      assertValid(
          ProvenanceMapper.of(
              new EventVersion.Stated(event),
              RECEIVED,
              ProvenanceMapper.Activity.UPDATE,
              targets,
              Told.BERLIN));
    }
  }

  @Property(tries = 20)
  void every_flag_meets_its_profile(@ForAll("histories") List<BedsideEvent> events) {
    Bedside bedside =
        new Bedside(
            Timeline.of(events), RuleSettings.DEFAULTS, new FacilityCalendar(Told.BERLIN.zone()));

    for (FlagSpan span : AllRules.spans(bedside)) {
      assertValid(FlagMapper.active(span, Told.BERLIN));
      assertValid(FlagMapper.past(span, span.since().plusSeconds(1), Told.BERLIN));
    }
  }

  @Property(tries = 10)
  void every_report_meets_its_profile(@ForAll("sums") DayCount days) {
    LocalDate first = LocalDate.of(2026, 2, 1);

    ReportScope scope =
        new ReportScope(new Ward("9W"), Optional.empty(), first, first.plusDays(27));
    assertValid(new MeasureReportMapper(Optional.empty()).summary(scope, days, List.of()));
  }

  private static void assertValid(Resource resource) {
    byte[] json = FhirJson.encode(resource).getBytes(StandardCharsets.UTF_8);
    assertThat(VALIDATOR.validate(json).stream().filter(Finding::isError).map(Finding::line))
        .as(FhirJson.encode(resource))
        .isEmpty();
  }

  @Provide
  Arbitrary<List<BedsideEvent>> histories() {
    return RandomEvents.histories();
  }

  @Provide
  Arbitrary<DayCount> sums() {
    return Arbitraries.integers()
        .between(0, 900)
        .map(patients -> new DayCount(patients, patients / 3));
  }
}
