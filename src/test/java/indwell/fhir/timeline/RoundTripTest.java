package indwell.fhir.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.Timeline;
import indwell.fhir.RandomEvents;
import indwell.fhir.map.Bare;
import indwell.fhir.map.Draft;
import indwell.fhir.map.EnteredInError;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.ResourcePlan;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.hl7.fhir.r4.model.Resource;

/** What an event said can be read back from the resources that it made. */
class RoundTripTest {

  @Property(tries = 300)
  void every_event_comes_back_from_the_resources_in_any_order(
      @ForAll("histories") List<BedsideEvent> events,
      @ForAll("zones") ZoneId zone,
      @ForAll Random random) {
    List<Resource> resources = stored(events, zone);
    Collections.shuffle(resources, random);

    assertThat(TimelineFromFhir.events(resources)).isEqualTo(expected(events));
  }

  @Property(tries = 100)
  void stays_wards_catheters_remarks_and_flags_are_those_of_the_events(
      @ForAll("histories") List<BedsideEvent> events, @ForAll("zones") ZoneId zone) {
    Timeline told = Timeline.of(expected(events));

    Timeline read = TimelineFromFhir.of(stored(events, zone));

    assertThat(read).isEqualTo(told);
    FacilityCalendar calendar = new FacilityCalendar(zone);
    assertThat(AllRules.spans(new Bedside(read, RuleSettings.DEFAULTS, calendar)))
        .isEqualTo(AllRules.spans(new Bedside(told, RuleSettings.DEFAULTS, calendar)));
  }

  @Property(tries = 30)
  void what_was_entered_in_error_is_passed_over(
      @ForAll("histories") List<BedsideEvent> events, @ForAll("zones") ZoneId zone) {
    List<Resource> marked = new ArrayList<>();
    for (Resource resource : stored(events, zone)) {
      marked.add(EnteredInError.mark(resource).orElse(resource));
    }

    assertThat(TimelineFromFhir.events(marked)).isEmpty();
  }

  private static List<Resource> stored(List<BedsideEvent> events, ZoneId zone) {
    ResourcePlan plan = ResourcePlan.of(Timeline.of(events), new MappingContext(zone));
    List<Resource> resources = new ArrayList<>();
    for (Draft draft : plan.drafts()) {
      resources.add(FhirJson.parse(FhirJson.encode(draft.build())));
    }
    return resources;
  }

  private static List<BedsideEvent> expected(List<BedsideEvent> events) {
    List<BedsideEvent> bare = new ArrayList<>();
    events.forEach(event -> bare.add(withoutLosses(Bare.of(event))));
    bare.sort(BedsideEvent.TIMELINE_ORDER);
    return bare;
  }

  /** FHIR R4's Specimen has no encounter. */
  private static BedsideEvent withoutLosses(BedsideEvent bare) {
    return bare instanceof SpecimenCollection specimen
        ? new SpecimenCollection(
            specimen.envelope(), Optional.empty(), specimen.catheter(), specimen.purpose())
        : bare;
  }

  @Provide
  Arbitrary<List<BedsideEvent>> histories() {
    return RandomEvents.histories();
  }

  @Provide
  Arbitrary<ZoneId> zones() {
    return Arbitraries.of("UTC", "Europe/Berlin", "America/St_Johns", "Asia/Kathmandu")
        .map(ZoneId::of);
  }
}
