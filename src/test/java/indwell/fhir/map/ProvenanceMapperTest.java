package indwell.fhir.map;

import static net.javacrumbs.jsonunit.assertj.JsonAssertions.assertThatJson;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventType;
import indwell.domain.event.EventVersion;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.fhir.Told;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.hl7.fhir.r4.model.Provenance;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class ProvenanceMapperTest {
  private static final EventKey KEY = new EventKey("his", "e-17");
  private static final BusinessId RECORDER = new BusinessId("urn:test:staff", "N-17");
  private static final Instant RECEIVED = Instant.parse("2026-07-01T08:00:00.017Z");
  private static final List<ResourceId> TARGETS = List.of(new ResourceId("Observation", "a17"));

  /** Codes: v3-DataOperation and provenance-participant-type of HL7 terminology. */
  @Test
  void it_says_who_sent_and_recorded_what_and_when() {
    Envelope envelope =
        new Envelope(
            KEY, 1, Instant.parse("2026-07-01T07:00:00Z"), Told.PATIENT, Optional.of(RECORDER));
    BodyWeight event = new BodyWeight(envelope, Optional.empty(), new BigDecimal("70"));

    Provenance provenance =
        ProvenanceMapper.of(
            new EventVersion.Stated(event),
            RECEIVED,
            ProvenanceMapper.Activity.CREATE,
            TARGETS,
            Told.BERLIN);

    assertThatJson(FhirJson.encode(provenance))
        .isEqualTo(
            """
            {
              "resourceType": "Provenance",
              "id": "${json-unit.regex}[a-z2-7]{26}",
              "meta": {"profile": [
                "https://indwell.example/fhir/StructureDefinition/catheter-record-provenance"]},
              "target": [{"reference": "Observation/a17"}],
              "occurredDateTime": "2026-07-01T09:00:00+02:00",
              "recorded": "2026-07-01T10:00:00.017+02:00",
              "activity": {"coding": [{
                "system": "http://terminology.hl7.org/CodeSystem/v3-DataOperation",
                "code": "CREATE", "display": "create"}]},
              "agent": [
                {"type": {"coding": [{
                    "system": "http://terminology.hl7.org/CodeSystem/provenance-participant-type",
                    "code": "assembler", "display": "Assembler"}]},
                 "who": {"identifier": {
                    "system": "https://indwell.example/fhir/source", "value": "his"}}},
                {"type": {"coding": [{
                    "system": "http://terminology.hl7.org/CodeSystem/provenance-participant-type",
                    "code": "enterer", "display": "Enterer"}]},
                 "who": {"identifier": {"system": "urn:test:staff", "value": "N-17"}}}],
              "entity": [{"role": "source", "what": {"identifier": {
                "system": "https://indwell.example/fhir/event", "value": "his:e-17"}}}]
            }
            """);
  }

  @Test
  void a_withdrawal_knows_no_time_at_the_bedside() {
    EventVersion withdrawn =
        new EventVersion.Withdrawn(
            KEY, 2, EventType.WEIGHT_MEASURED, Told.PATIENT, Optional.empty());

    Provenance provenance =
        ProvenanceMapper.of(
            withdrawn, RECEIVED, ProvenanceMapper.Activity.NULLIFY, TARGETS, Told.BERLIN);

    assertThat(provenance.hasOccurred()).isFalse();
    assertThat(provenance.getAgent()).hasSize(1);
    assertThat(provenance.getActivity().getCodingFirstRep().getCode()).isEqualTo("NULLIFY");
  }
}
