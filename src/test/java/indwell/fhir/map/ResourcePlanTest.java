package indwell.fhir.map;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventKey;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.timeline.Timeline;
import indwell.fhir.Told;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class ResourcePlanTest {

  @Test
  void without_events_there_is_nothing() {
    assertThat(new Told().plan().drafts()).isEmpty();
  }

  /** Source: fhir-mapping page, what each event makes. */
  @Test
  void an_answer_lists_the_main_resource_first() {
    Told told = new Told().admitted("W1", "01 08:00").inserted("c1", "01 09:00");

    assertThat(types(told, 0)).containsExactly("Encounter", "Patient", "Location");
    assertThat(types(told, 1))
        .containsExactly(
            "Procedure",
            "DeviceUseStatement",
            "Device",
            "Observation",
            "Observation",
            "Encounter",
            "Patient");
  }

  @Test
  void a_removal_has_a_share_in_the_use_that_it_completes() {
    Told told =
        new Told().admitted("W1", "01 08:00").inserted("c1", "01 09:00").removed("c1", "02 09:00");

    assertThat(types(told, 2))
        .containsExactly("Procedure", "DeviceUseStatement", "Device", "Patient");
  }

  @Test
  void a_review_makes_an_observation_and_a_check_one_for_each_item() {
    Told told =
        new Told()
            .admitted("W1", "01 08:00")
            .inserted("c1", "01 09:00")
            .stillNeeded("c1", "02 08:00")
            .checked("c1", "02 09:00");

    assertThat(types(told, 2)).containsExactly("Observation", "Device", "Patient");
    assertThat(types(told, 3))
        .containsExactly("Procedure", "Device", "Observation", "Observation", "Patient");
  }

  @Test
  void a_weight_recorded_late_changes_the_rates_after_it_and_nothing_else() {
    Told told =
        new Told().weighed("70", "01 06:00").urine("30", 1, "01 07:00").urine("30", 1, "01 09:00");
    ResourcePlan before = told.plan();

    PlanDiff diff =
        PlanDiff.between(List.of(before), List.of(told.weighed("60", "01 08:00").plan()));

    ResourceId rate = ResourceId.ofEvent("Observation", Told.key(2), "rate");
    ResourceId weight = ResourceId.ofEvent("Observation", Told.key(3));
    assertThat(diff.written()).extracting(Draft::id).containsExactly(weight, rate);
    assertThat(diff.gone()).isEmpty();
  }

  @Test
  void a_version_or_recorder_alone_changes_no_clinical_resource() {
    BusinessId recorder = new BusinessId("urn:test:staff", "N-17");
    ResourcePlan one = weight(1, "70.0", Optional.empty(), "UTC");
    ResourcePlan other = weight(2, "70", Optional.of(recorder), "UTC");

    assertThat(PlanDiff.between(List.of(one), List.of(other)))
        .isEqualTo(new PlanDiff(List.of(), List.of()));
  }

  @Test
  void another_zone_is_another_content() {
    ResourcePlan one = weight(1, "70", Optional.empty(), "UTC");
    ResourcePlan other = weight(1, "70", Optional.empty(), "Europe/Berlin");

    assertThat(PlanDiff.between(List.of(one), List.of(other)).written()).isNotEmpty();
  }

  private static ResourcePlan weight(
      int version, String kg, Optional<BusinessId> recorder, String zone) {
    Envelope envelope =
        new Envelope(
            new EventKey("his", "17"),
            version,
            Instant.parse("2026-03-01T08:00:00Z"),
            Told.PATIENT,
            recorder);
    BodyWeight event = new BodyWeight(envelope, Optional.empty(), new BigDecimal(kg));
    return ResourcePlan.of(Timeline.of(List.of(event)), new MappingContext(ZoneId.of(zone)));
  }

  private static List<String> types(Told told, int event) {
    return told.plan().drafts(Told.key(event)).stream().map(draft -> draft.id().type()).toList();
  }
}
