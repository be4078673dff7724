package indwell.usecase.audit;

import indwell.fhir.term.Profiles;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Action;
import indwell.port.AuditEntry.Agent;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Kind;
import indwell.port.Audited;
import java.nio.charset.StandardCharsets;
import java.util.Date;
import java.util.List;
import org.hl7.fhir.r4.model.AuditEvent;
import org.hl7.fhir.r4.model.AuditEvent.AuditEventAction;
import org.hl7.fhir.r4.model.AuditEvent.AuditEventAgentComponent;
import org.hl7.fhir.r4.model.AuditEvent.AuditEventAgentNetworkType;
import org.hl7.fhir.r4.model.AuditEvent.AuditEventEntityComponent;
import org.hl7.fhir.r4.model.AuditEvent.AuditEventOutcome;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.InstantType;
import org.hl7.fhir.r4.model.Reference;

/**
 * A row of the audit trail as an AuditEvent, after the REST patterns of IHE Basic Audit Log
 * Patterns; the codes are from memory and from FHIR R4 (auditevent.html).
 */
public final class AuditEvents {
  private static final String TERMINOLOGY = "http://terminology.hl7.org/CodeSystem/";
  private static final String DICOM = "http://dicom.nema.org/resources/ontology/DCM";
  private static final Coding SENDER = new Coding(DICOM, "110153", "Source Role ID");
  private static final Coding RECEIVER = new Coding(DICOM, "110152", "Destination Role ID");

  /** What the service calls itself. */
  private static final String SELF = "Indwell";

  private AuditEvents() {}

  /** The resource, its id made of the row's number. */
  public static AuditEvent of(Audited row) {
    AuditEntry entry = row.entry();
    AuditEvent event = new AuditEvent();
    event.setId(row.id());
    event.getMeta().addProfile(Profiles.AUDIT_EVENT).setLastUpdated(Date.from(entry.at()));
    event.setType(coding(entry.interaction().type()));
    if (!entry.interaction().subtype().isEmpty()) {
      event.addSubtype(coding(entry.interaction().subtype()));
    }
    event.setAction(AuditEventAction.fromCode(entry.interaction().action().code()));
    event.setRecordedElement(new InstantType(entry.at().toString()));
    event.setOutcome(AuditEventOutcome.fromCode(entry.outcome().code()));
    event.setOutcomeDesc(
        entry.reason().map(code -> entry.status() + " " + code).orElse("" + entry.status()));
    addAgents(event, entry);
    event.getSource().setObserver(new Reference().setDisplay(SELF));
    addEntities(event, entry);
    return event;
  }

  private static void addAgents(AuditEvent event, AuditEntry entry) {
    boolean gives = !gets(entry.interaction());
    event.addAgent(client(entry).setType(concept(gives ? SENDER : RECEIVER)));
    entry.origin().agent().user().ifPresent(user -> event.addAgent(user(entry, user, gives)));
    if (entry.origin().agent().kind() != Kind.SERVICE) {
      event
          .addAgent()
          .setType(concept(gives ? RECEIVER : SENDER))
          .setWho(new Reference().setDisplay(SELF))
          .setRequestor(false);
    }
  }

  /** Whether whoever asks is the one who is given something. */
  private static boolean gets(Interaction interaction) {
    return interaction.action() == Action.READ || interaction.action() == Action.EXECUTE;
  }

  private static AuditEventAgentComponent client(AuditEntry entry) {
    Agent agent = entry.origin().agent();
    AuditEventAgentComponent client = new AuditEventAgentComponent();
    client.setRequestor(agent.user().isEmpty());
    switch (agent.kind()) {
      case KNOWN ->
          client
              .setWho(new Reference().setIdentifier(new Identifier().setValue(agent.client())))
              .setAltId(agent.client());
      case DEVELOPMENT -> client.setName("anybody on this machine, in development mode");
      case NOBODY -> client.setName("nobody whom the issuer vouches for");
      case SERVICE -> client.setName(SELF);
    }
    if (!entry.origin().address().isEmpty()) {
      client
          .getNetwork()
          .setAddress(entry.origin().address())
          .setType(AuditEventAgentNetworkType._2);
    }
    return client;
  }

  private static AuditEventAgentComponent user(AuditEntry entry, String name, boolean gives) {
    AuditEventAgentComponent user =
        new AuditEventAgentComponent()
            .setType(
                concept(
                    gives
                        ? participation("AUT", "author (originator)")
                        : participation("IRCP", "information recipient")))
            .setWho(new Reference().setIdentifier(new Identifier().setValue(name)))
            .setAltId(name)
            .setRequestor(true);
    entry
        .origin()
        .agent()
        .roles()
        .forEach(role -> user.addRole(new CodeableConcept().setText(role)));
    return user;
  }

  private static Coding participation(String code, String display) {
    return new Coding(TERMINOLOGY + "v3-ParticipationType", code, display);
  }

  private static void addEntities(AuditEvent event, AuditEntry entry) {
    entry
        .entity()
        .ifPresent(
            reference ->
                event.addEntity(
                    of(objects("2", "System Object"), roles("4", "Domain Resource"))
                        .setWhat(new Reference(reference))));
    entry
        .patient()
        .ifPresent(
            id ->
                event.addEntity(
                    of(objects("1", "Person"), roles("1", "Patient"))
                        .setWhat(new Reference("Patient/" + id))));
    if (!entry.origin().place().isEmpty()) {
      event.addEntity(asked(entry));
    }
  }

  private static AuditEventEntityComponent of(Coding type, Coding role) {
    return new AuditEventEntityComponent().setType(type).setRole(role);
  }

  /** Which request it was: the route, and the names of its parameters. */
  private static AuditEventEntityComponent asked(AuditEntry entry) {
    String query = entry.query().isEmpty() ? "" : "?" + entry.query();
    return of(objects("2", "System Object"), roles("24", "Query"))
        .setQuery((entry.origin().place() + query).getBytes(StandardCharsets.UTF_8));
  }

  private static Coding objects(String code, String display) {
    return new Coding(TERMINOLOGY + "audit-entity-type", code, display);
  }

  private static Coding roles(String code, String display) {
    return new Coding(TERMINOLOGY + "object-role", code, display);
  }

  private static Coding coding(List<String> parts) {
    return new Coding(parts.get(0), parts.get(1), parts.get(2));
  }

  private static CodeableConcept concept(Coding coding) {
    return new CodeableConcept().addCoding(coding.copy());
  }
}
