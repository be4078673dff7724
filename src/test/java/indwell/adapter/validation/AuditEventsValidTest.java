package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.contract.SharedValidator;
import indwell.fhir.map.FhirJson;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Agent;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditEntry.Origin;
import indwell.port.Audited;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import indwell.usecase.audit.AuditEvents;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What is made of a row is valid R4 and meets our profile, whatever the row says. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditEventsValidTest {
  @Test
  void every_kind_of_row_makes_a_valid_resource() {
    ProfileValidator validator = SharedValidator.WARM;
    int made = 0;
    for (Interaction interaction : Interaction.values()) {
      for (Kind kind : Kind.values()) {
        for (boolean about : List.of(true, false)) {
          String json =
              FhirJson.encode(AuditEvents.of(new Audited(++made, row(interaction, kind, about))));
          List<Finding> findings =
              validator.validate(
                  json.getBytes(StandardCharsets.UTF_8),
                  List.of("http://hl7.org/fhir/StructureDefinition/AuditEvent"));
          assertThat(findings.stream().filter(Finding::isError)).as(json).isEmpty();
          assertThat(json).contains("StructureDefinition/catheter-audit-event");
        }
      }
    }
  }

  private static AuditEntry row(Interaction interaction, Kind kind, boolean about) {
    boolean known = kind == Kind.KNOWN;
    Agent agent =
        new Agent(
            kind,
            known ? "ehr" : "",
            known && about ? Optional.of("staff-1") : Optional.empty(),
            known && about ? List.of("nurse") : List.of());
    return new AuditEntry(
        Instant.parse("2026-03-10T12:00:00.250Z"),
        kind == Kind.SERVICE
            ? Origin.SERVICE
            : new Origin(agent, about ? "::1" : "10.0.0.7", "GET /fhir/Procedure/{}"),
        interaction,
        about ? Optional.of("Procedure/abc") : Optional.empty(),
        about ? Optional.of("p1") : Optional.empty(),
        about ? "_count=5" : "",
        about ? 200 : 503,
        about ? Optional.empty() : Optional.of("IND-0405"));
  }
}
