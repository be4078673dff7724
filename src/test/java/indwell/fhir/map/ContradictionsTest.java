package indwell.fhir.map;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import indwell.domain.TimelineSentence;
import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.timeline.Timeline;
import indwell.fhir.Told;
import java.util.List;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.DeviceUseStatement;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Resource;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What contradictory events are mapped to. Source: contract, end of section 2, and section 4. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ContradictionsTest {

  @Test
  void a_removal_without_its_insertion_leaves_a_device_of_status_unknown() {
    Told told = new Told().admitted("W1", "01 08:00").removed("c1", "02 08:00");

    Device device = told.built(Device.class).get(0);

    assertThat(device.getStatus().toCode()).isEqualTo("unknown");
    assertThat(device.getType().getCodingFirstRep().getCode()).isEqualTo("20568009");
    assertThat(device.hasProperty()).isFalse();
    assertThat(told.built(DeviceUseStatement.class)).isEmpty();
    assertThat(told.built(Procedure.class)).hasSize(1);
  }

  @Test
  void an_insertion_of_a_catheter_in_place_makes_a_procedure_but_no_use() {
    Told told =
        new Told().admitted("W1", "01 08:00").inserted("c1", "01 09:00").inserted("c1", "02 09:00");

    assertThat(told.built(Procedure.class)).hasSize(2);
    assertThat(told.built(DeviceUseStatement.class)).hasSize(1);
    assertThat(told.built(Device.class)).hasSize(1);
  }

  @Test
  void of_two_insertions_at_one_instant_device_and_use_are_those_of_the_last() {
    List<BedsideEvent> events =
        TimelineSentence.of(
                """
                06-01 10:00 admitted A
                06-01 11:00 inserted c1 label=10 id=first
                06-01 11:00 inserted c1 label=30 suprapubic id=last
                """)
            .events();

    Device device = resource(events, Device.class);
    DeviceUseStatement use = resource(events, DeviceUseStatement.class);
    assertThat(device.getType().getCodingFirstRep().getCode()).isEqualTo("suprapubic-catheter");
    assertThat(device.getProperty())
        .extracting(property -> property.getValueQuantityFirstRep().getValue().toString())
        .contains("30")
        .doesNotContain("10");
    assertThat(use.getIdentifierFirstRep().getValue()).isEqualTo("ward-system:last");
    assertThat(use.getDerivedFromFirstRep().getReference())
        .isEqualTo(
            ResourceId.ofEvent("Procedure", new EventKey("ward-system", "last"))
                .reference()
                .getReference());
  }

  @Test
  void of_two_admissions_at_one_instant_the_class_is_that_of_the_last() {
    List<BedsideEvent> events =
        TimelineSentence.of(
                """
                06-01 10:00 admitted A id=first
                06-01 10:00 admitted ER outpatient id=last
                """)
            .events();

    Encounter stay = resource(events, Encounter.class);
    assertThat(stay.getClass_().getCode()).isEqualTo("AMB");
    assertThat(stay.getExtension()).hasSize(2);
  }

  /** The one resource of that type that they make. */
  private static <R extends Resource> R resource(List<BedsideEvent> events, Class<R> type) {
    List<R> made =
        ResourcePlan.of(Timeline.of(events), Told.BERLIN).drafts().stream()
            .map(Draft::build)
            .filter(type::isInstance)
            .map(type::cast)
            .toList();
    assertThat(made).hasSize(1);
    return made.get(0);
  }

  @Test
  void an_exchange_of_an_unknown_catheter_puts_the_replacement_in_place() {
    Told told = new Told().admitted("W1", "01 08:00").exchanged("c1", "c2", "02 09:00");

    List<String> statuses =
        told.built(Device.class).stream().map(device -> device.getStatus().toCode()).toList();
    assertThat(statuses).containsExactly("unknown", "active");
    assertThat(told.built(DeviceUseStatement.class)).hasSize(1);
  }

  @Test
  void ward_entries_are_cut_at_the_next_movement_and_empty_ones_are_left_out() {
    Told told =
        new Told()
            .admitted("W1", "01 08:00")
            .moved("W2", "01 08:00")
            .moved("W3", "02 08:00")
            .moved("W1", "03 08:00");

    Encounter stay = told.built(Encounter.class).get(0);

    assertThat(stay.getLocation())
        .extracting(
            entry -> entry.getLocation().getReference(),
            entry -> entry.getStatus().toCode(),
            entry -> entry.getPeriod().getStartElement().getValueAsString(),
            entry -> entry.getPeriod().getEndElement().getValueAsString())
        .containsExactly(
            tuple(
                "Location/W2",
                "completed",
                "2026-03-01T09:00:00+01:00",
                "2026-03-02T09:00:00+01:00"),
            tuple(
                "Location/W3",
                "completed",
                "2026-03-02T09:00:00+01:00",
                "2026-03-03T09:00:00+01:00"),
            tuple("Location/W1", "active", "2026-03-03T09:00:00+01:00", null));
    assertThat(stay.getExtension()).hasSize(4);
  }

  @Test
  void a_stay_that_was_never_opened_is_of_status_and_class_unknown() {
    Encounter stay = new Told().inserted("c1", "01 08:00").built(Encounter.class).get(0);

    assertThat(stay.getStatus().toCode()).isEqualTo("unknown");
    assertThat(stay.getClass_().getSystem())
        .isEqualTo("http://terminology.hl7.org/CodeSystem/v3-NullFlavor");
    assertThat(stay.getClass_().getCode()).isEqualTo("UNK");
    assertThat(stay.hasPeriod()).isFalse();
  }

  @Test
  void an_inpatient_movement_after_the_end_of_the_stay_does_not_make_it_inpatient() {
    Told told = new Told().arrived("ED", "01 08:00").discharged("01 12:00").moved("W1", "01 13:00");

    Encounter stay = told.built(Encounter.class).get(0);

    assertThat(stay.getClass_().getCode()).isEqualTo("AMB");
    assertThat(stay.getStatus().toCode()).isEqualTo("finished");
    assertThat(stay.getExtension()).hasSize(3);
  }
}
