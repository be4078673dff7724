package indwell.usecase.audit;

import static net.javacrumbs.jsonunit.assertj.JsonAssertions.assertThatJson;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.fhir.map.FhirJson;
import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValues;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Agent;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditEntry.Origin;
import indwell.port.Audited;
import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.AuditEvent;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditEventsTest {
  private static final Agent NURSE =
      new Agent(Kind.KNOWN, "ehr-3", Optional.of("staff-1"), List.of("nurse"));

  private static AuditEntry entry(Agent agent, Interaction interaction) {
    return new AuditEntry(
        Instant.parse("2026-03-10T12:00:00.250Z"),
        new Origin(agent, "10.0.0.7", "GET /fhir/Procedure/{}"),
        interaction,
        Optional.of("Procedure/x"),
        Optional.of("p1"),
        "_count=5&identifier",
        403,
        Optional.of("IND-0403"));
  }

  @Test
  void a_row_says_who_did_what_to_what_and_how_it_ended() {
    String json = FhirJson.encode(AuditEvents.of(new Audited(7, entry(NURSE, Interaction.READ))));

    assertThatJson(json)
        .isEqualTo(
            """
            {resourceType: "AuditEvent", id: "a0000000000000000007",
             meta: {lastUpdated: "${json-unit.any-string}",
                    profile: ["https://indwell.example/fhir/StructureDefinition/catheter-audit-event"]},
             type: {system: "http://terminology.hl7.org/CodeSystem/audit-event-type", code: "rest",
                    display: "RESTful Operation"},
             subtype: [{system: "http://hl7.org/fhir/restful-interaction", code: "read",
                        display: "read"}],
             action: "R", recorded: "2026-03-10T12:00:00.250Z", outcome: "4",
             outcomeDesc: "403 IND-0403",
             agent: [
               {type: {coding: [{system: "http://dicom.nema.org/resources/ontology/DCM",
                                 code: "110152", display: "Destination Role ID"}]},
                who: {identifier: {value: "ehr-3"}}, altId: "ehr-3", requestor: false,
                network: {address: "10.0.0.7", type: "2"}},
               {type: {coding: [{system: "http://terminology.hl7.org/CodeSystem/v3-ParticipationType",
                                 code: "IRCP", display: "information recipient"}]},
                role: [{text: "nurse"}],
                who: {identifier: {value: "staff-1"}}, altId: "staff-1", requestor: true},
               {type: {coding: [{system: "http://dicom.nema.org/resources/ontology/DCM",
                                 code: "110153", display: "Source Role ID"}]},
                who: {display: "Indwell"}, requestor: false}],
             source: {observer: {display: "Indwell"}},
             entity: [
               {what: {reference: "Procedure/x"},
                type: {system: "http://terminology.hl7.org/CodeSystem/audit-entity-type", code: "2",
                       display: "System Object"},
                role: {system: "http://terminology.hl7.org/CodeSystem/object-role", code: "4",
                       display: "Domain Resource"}},
               {what: {reference: "Patient/p1"},
                type: {system: "http://terminology.hl7.org/CodeSystem/audit-entity-type", code: "1",
                       display: "Person"},
                role: {system: "http://terminology.hl7.org/CodeSystem/object-role", code: "1",
                       display: "Patient"}},
               {type: {system: "http://terminology.hl7.org/CodeSystem/audit-entity-type", code: "2",
                       display: "System Object"},
                role: {system: "http://terminology.hl7.org/CodeSystem/object-role", code: "24",
                       display: "Query"},
                query: "R0VUIC9maGlyL1Byb2NlZHVyZS97fT9fY291bnQ9NSZpZGVudGlmaWVy"}]}""");
  }

  @ParameterizedTest
  @EnumSource
  void what_a_row_is_found_by_is_what_its_resource_is_found_by(Interaction interaction) {
    for (Kind kind : Kind.values()) {
      Agent agent = kind == Kind.KNOWN ? NURSE : new Agent(kind, "", Optional.empty(), List.of());
      AuditEntry entry = entry(agent, interaction);
      AuditEvent event = AuditEvents.of(new Audited(7, entry));

      Set<SearchValue> found = new HashSet<>(SearchValues.of(event));
      assertThat(found).isEqualTo(new HashSet<>(entry.values()));
    }
  }

  @Test
  void ids_ascend_as_numbers_do_and_lead_back_to_them() {
    assertThat(Audited.id(9)).isLessThan(Audited.id(10));
    assertThat(Audited.number(Audited.id(Long.MAX_VALUE))).contains(Long.MAX_VALUE);
    assertThat(Audited.number("a9999999999999999999")).isEmpty();
    assertThat(Audited.number("a7")).isEmpty();
    assertThat(Audited.number("x")).isEmpty();
  }
}
