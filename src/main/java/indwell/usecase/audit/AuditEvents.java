package indwell.usecase.audit;

import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Agent;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditLog.Numbered;
import java.util.Date;
import org.hl7.fhir.r4.model.AuditEvent;
import org.hl7.fhir.r4.model.AuditEvent.AuditEventAction;
import org.hl7.fhir.r4.model.AuditEvent.AuditEventAgentComponent;
import org.hl7.fhir.r4.model.AuditEvent.AuditEventAgentNetworkType;
import org.hl7.fhir.r4.model.AuditEvent.AuditEventEntityComponent;
import org.hl7.fhir.r4.model.AuditEvent.AuditEventOutcome;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Reference;

/**
 * A row of the audit trail as an AuditEvent, after the REST patterns of IHE Basic Audit Log
 * Patterns; the codes are from memory and from FHIR R4 (auditevent.html).
 */
public final class AuditEvents {
  private static final String TERMINOLOGY = "http://terminology.hl7.org/CodeSystem/";
  private static final String DICOM = "http://dicom.nema.org/resources/ontology/DCM";

  /** What the service calls itself as the one who observed. */
  private static final String OBSERVER = "Indwell";

  private AuditEvents() {}

  /** The resource, its id the row's number. */
  public static AuditEvent of(Numbered row) {
    AuditEntry entry = row.entry();
    AuditEvent event = new AuditEvent();
    event.setId("a" + row.number());
    event.setType(new Coding(TERMINOLOGY + "audit-event-type", "rest", "RESTful Operation"));
    event.addSubtype(new Coding().setDisplay(entry.interaction()));
    event.setAction(AuditEventAction.fromCode(entry.action().code()));
    event.setRecorded(Date.from(entry.at()));
    event.setOutcome(AuditEventOutcome.fromCode(entry.outcome()));
    event.addAgent(client(entry));
    entry.agent().user().ifPresent(user -> event.addAgent(user(user)));
    event.getSource().setObserver(new Reference().setDisplay(OBSERVER));
    entry
        .entity()
        .ifPresent(
            reference ->
                event.addEntity(entity(reference, "2", "System Object", "4", "Domain Resource")));
    entry
        .patient()
        .ifPresent(id -> event.addEntity(entity("Patient/" + id, "1", "Person", "1", "Patient")));
    return event;
  }

  private static AuditEventAgentComponent client(AuditEntry entry) {
    Agent agent = entry.agent();
    AuditEventAgentComponent client = new AuditEventAgentComponent();
    client.setType(concept(DICOM, "110153", "Source Role ID"));
    client.setRequestor(agent.user().isEmpty());
    if (agent.kind() == Kind.KNOWN) {
      client.setWho(new Reference().setIdentifier(new Identifier().setValue(agent.client())));
    } else {
      client.setName(
          agent.kind() == Kind.DEVELOPMENT
              ? "anybody on this machine, in development mode"
              : "nobody whom the issuer vouches for");
    }
    client.getNetwork().setAddress(entry.address()).setType(AuditEventAgentNetworkType._2);
    return client;
  }

  private static AuditEventAgentComponent user(String user) {
    return new AuditEventAgentComponent()
        .setType(concept(TERMINOLOGY + "v3-ParticipationType", "IRCP", "information recipient"))
        .setWho(new Reference().setIdentifier(new Identifier().setValue(user)))
        .setRequestor(true);
  }

  private static AuditEventEntityComponent entity(
      String reference, String type, String typeText, String role, String roleText) {
    return new AuditEventEntityComponent()
        .setWhat(new Reference(reference))
        .setType(new Coding(TERMINOLOGY + "audit-entity-type", type, typeText))
        .setRole(new Coding(TERMINOLOGY + "object-role", role, roleText));
  }

  private static CodeableConcept concept(String system, String code, String text) {
    return new CodeableConcept().addCoding(new Coding(system, code, text));
  }
}
