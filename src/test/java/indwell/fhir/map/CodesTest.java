package indwell.fhir.map;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import indwell.fhir.Told;
import indwell.fhir.term.Profiles;
import java.util.List;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.DeviceUseStatement;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Location;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Quantity;
import org.hl7.fhir.r4.model.Specimen;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * Codes and units as published. SNOMED CT: Global Patient Set, International edition 2020-07-31,
 * unless noted; LOINC and UCUM as noted.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CodesTest {
  private static final String LOCAL = "https://indwell.example/fhir/CodeSystem/";

  private final Told told =
      new Told()
          .admitted("W1", "27 08:00")
          .inserted("c1", "27 09:00")
          .stillNeeded("c1", "28 08:00")
          .noLongerNeeded("c1", "28 09:00")
          .secured("c1", "28 10:00")
          .checked("c1", "28 11:00")
          .weighed("70", "28 11:30")
          .urine("200", 6, "28 12:00")
          .sampled("c1", "28 13:00")
          .exchanged("c1", "c2", "29 08:00")
          .removed("c2", "30 08:00")
          .insertedAboveThePubis("c3", "30 09:00")
          .sampled("c3", "30 10:00");

  @Test
  void procedures_are_coded_as_published() {
    assertThat(told.built(Procedure.class))
        .extracting(procedure -> tokens(procedure.getCode()).get(0))
        .containsExactly(
            "http://snomed.info/sct|410024004",
            "http://snomed.info/sct|182524008",
            "http://snomed.info/sct|410253009",
            "http://snomed.info/sct|176192000",
            // SNOMED CT Editorial Guide, procedure attributes
            "http://snomed.info/sct|43748006",
            "http://snomed.info/sct|410024004");
  }

  /** Source: FHIR R4, value set device-action. */
  @Test
  void focal_devices_say_what_was_done_to_them() {
    assertThat(told.built(Procedure.class))
        .extracting(
            procedure ->
                procedure.getFocalDevice().stream()
                    .map(device -> device.getAction().getCodingFirstRep().getCode())
                    .toList())
        .containsExactly(
            List.of("implanted"),
            List.of("manipulated"),
            List.of("manipulated"),
            List.of("explanted", "implanted"),
            List.of("explanted"),
            List.of("implanted"));
  }

  /** Source: expansion of FHIR's device-type value set. */
  @Test
  void devices_are_typed_by_route() {
    assertThat(told.built(Device.class))
        .extracting(device -> tokens(device.getType()).get(0))
        .containsExactly(
            "http://snomed.info/sct|23973005",
            "http://snomed.info/sct|23973005",
            LOCAL + "catheter-device-kind|suprapubic-catheter");
    assertThat(told.built(Device.class))
        .extracting(device -> device.getStatus().toCode())
        .containsExactly("inactive", "inactive", "active");
  }

  /** Source of the unit: UCUM, French catheter gauge. */
  @Test
  void the_size_is_in_charriere() {
    Quantity size =
        told.built(Device.class).get(0).getPropertyFirstRep().getValueQuantityFirstRep();

    assertThat(size.getValue()).isEqualTo("16");
    assertThat(size.getCode()).isEqualTo("[Ch]");
    assertThat(size.getSystem()).isEqualTo("http://unitsofmeasure.org");
  }

  /** Sources: HL7 CDA HAI, NHSNSpecimenTypeCode; KBV_VS_MIO_LAB_Specimen_Collection_Method. */
  @Test
  void specimens_are_typed_by_route() {
    assertThat(told.built(Specimen.class))
        .extracting(
            specimen -> tokens(specimen.getType()).get(0),
            specimen -> tokens(specimen.getCollection().getMethod()).get(0))
        .containsExactly(
            tuple("http://snomed.info/sct|446846006", "http://snomed.info/sct|446775007"),
            tuple("http://snomed.info/sct|699287008", "http://snomed.info/sct|698087006"));
  }

  @Test
  void the_indication_is_local_with_snomed_beside_it() {
    CodeableConcept reason = told.built(Procedure.class).get(0).getReasonCodeFirstRep();

    assertThat(tokens(reason))
        .containsExactly(
            LOCAL + "catheter-indication|acute-retention", "http://snomed.info/sct|236648008");
    assertThat(reason.getText()).isEqualTo("after epidural");
  }

  @Test
  void a_review_says_the_indication_or_not_indicated() {
    List<Observation> reviews = observations(Profiles.NEED_REVIEW);

    assertThat(tokens(reviews.get(0).getCode()))
        .containsExactly(
            LOCAL + "catheter-observation|need-review", "http://snomed.info/sct|432678004");
    assertThat(tokens(reviews.get(0).getValueCodeableConcept()))
        .containsExactly(LOCAL + "catheter-indication|open-wound-incontinence");
    assertThat(tokens(reviews.get(1).getValueCodeableConcept()))
        .containsExactly("http://snomed.info/sct|410534003");
    assertThat(tokens(reviews.get(1).getComponentFirstRep().getValueCodeableConcept()))
        .containsExactly(LOCAL + "catheter-indication|open-wound-incontinence");
  }

  /** LOINC 9187-6 by MII intensive care 2026.0.2; 29463-7 by US Core 9.0.0. */
  @Test
  void volumes_and_weights_carry_loinc_and_ucum() {
    Observation urine = observations(Profiles.URINE_OUTPUT).get(0);
    Observation weight = observations(Profiles.BODY_WEIGHT).get(0);
    Observation drained = observations(Profiles.INITIAL_DRAINAGE).get(0);

    assertThat(tokens(urine.getCode())).containsExactly("http://loinc.org|9187-6");
    assertThat(urine.getValueQuantity().getCode()).isEqualTo("mL");
    assertThat(urine.getEffectivePeriod().getStartElement().getValueAsString())
        .isEqualTo("2026-03-28T07:00:00+01:00");
    assertThat(urine.getEffectivePeriod().getEndElement().getValueAsString())
        .isEqualTo("2026-03-28T13:00:00+01:00");
    assertThat(tokens(weight.getCode())).containsExactly("http://loinc.org|29463-7");
    assertThat(weight.getValueQuantity().getCode()).isEqualTo("kg");
    assertThat(tokens(drained.getCode()))
        .containsExactly(
            "http://loinc.org|9187-6", LOCAL + "catheter-observation|initial-drainage");
  }

  /** 200 mL in 6 h at 70 kg: check value UO-10 says 0.476. */
  @Test
  void the_rate_is_volume_by_weight_and_time_to_four_decimals() {
    Observation rate = observations(Profiles.URINE_RATE).get(0);

    assertThat(rate.getValueQuantity().getValue()).isEqualTo("0.4762");
    assertThat(rate.getValueQuantity().getCode()).isEqualTo("mL/kg/h");
    assertThat(rate.getDerivedFrom())
        .extracting(source -> source.getReference())
        .containsExactly(
            ResourceId.ofEvent("Observation", Told.key(7)).text(),
            ResourceId.ofEvent("Observation", Told.key(6)).text());
  }

  @Test
  void the_balloon_volume_is_part_of_the_insertion_and_about_the_catheter() {
    Observation balloon = observations(Profiles.BALLOON_VOLUME).get(0);
    Procedure insertion = told.built(Procedure.class).get(0);

    assertThat(balloon.getValueQuantity().getValue()).isEqualTo("9.5");
    assertThat(balloon.getPartOfFirstRep().getReference())
        .isEqualTo(ResourceId.of(insertion).text());
    assertThat(balloon.getFocusFirstRep().getReference())
        .isEqualTo(insertion.getFocalDeviceFirstRep().getManipulated().getReference());
  }

  /**
   * Source: FHIR R4, value sets encounter-status, location-physical-type, device-statement-status.
   */
  @Test
  void stay_ward_and_use_are_coded_as_fhir_does() {
    Encounter stay = told.built(Encounter.class).get(0);
    Location ward = told.built(Location.class).get(0);

    assertThat(stay.getClass_().getCode()).isEqualTo("IMP");
    assertThat(stay.getStatus().toCode()).isEqualTo("in-progress");
    assertThat(tokens(ward.getPhysicalType()))
        .containsExactly("http://terminology.hl7.org/CodeSystem/location-physical-type|wa");
    assertThat(told.built(DeviceUseStatement.class))
        .extracting(use -> use.getStatus().toCode())
        .containsExactly("completed", "completed", "active");
    assertThat(told.built(DeviceUseStatement.class))
        .extracting(use -> tokens(use.getBodySite()).get(0))
        .containsOnly("http://snomed.info/sct|89837001");
  }

  /** The clocks of Berlin went forward on 29 March 2026. */
  @Test
  void times_carry_the_offset_of_the_facility_at_that_instant() {
    assertThat(told.built(Procedure.class))
        .extracting(procedure -> procedure.getPerformedDateTimeType().getValueAsString())
        .contains("2026-03-27T10:00:00+01:00", "2026-03-30T10:00:00+02:00");
  }

  private List<Observation> observations(String profile) {
    return told.built(Observation.class).stream()
        .filter(observation -> observation.getMeta().hasProfile(profile))
        .toList();
  }

  private static List<String> tokens(CodeableConcept concept) {
    return concept.getCoding().stream().map(CodesTest::token).toList();
  }

  private static String token(Coding coding) {
    return coding.getSystem() + "|" + coding.getCode();
  }
}
