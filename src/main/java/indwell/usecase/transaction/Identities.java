package indwell.usecase.transaction;

import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterId;
import indwell.domain.event.EventKey;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.bundle.TakenProfile;
import indwell.fhir.map.ResourceId;
import indwell.fhir.term.BedsideTerms;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Systems;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.DeviceUseStatement;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Patient;
import org.hl7.fhir.r4.model.Reference;

/**
 * Says which resource of ours each one that was sent is: by its business identifier, or by the
 * event that it belongs to. Those that others are found by come first.
 */
final class Identities {
  private final Known known;
  private final References references;
  private final Map<Integer, Identity> all = new HashMap<>();
  private final Map<ResourceId, BusinessId> patients = new HashMap<>();

  Identities(Known known, List<Sent> sent, String base) {
    this.known = known;
    this.references = new References(known, sent, base, all);
  }

  /** Where references lead. */
  References references() {
    return references;
  }

  Identity of(Sent sent) {
    return Optional.ofNullable(all.get(sent.entry().index())).orElseThrow();
  }

  /** In which round a resource can be identified: after what it is identified by. */
  static int round(TakenProfile profile) {
    return switch (profile.role()) {
      case MAIN -> 1;
      case MOVEMENTS -> 2;
      case PART -> 3;
      case FOLLOWS -> profile == TakenProfile.PATIENT || profile == TakenProfile.WARD ? 0 : 4;
    };
  }

  /** Identifies one; those of earlier rounds have been. */
  void identify(Sent sent) {
    Identity identity = identity(sent);
    all.put(sent.entry().index(), identity);
    if (sent.resource() instanceof Patient) {
      patients.put(identity.id(), businessId(identity.identifier()));
    }
  }

  private Identity identity(Sent sent) {
    return switch (sent.profile()) {
      case PATIENT -> {
        BusinessId patient = businessId(SentIdentifiers.first(sent));
        yield new Identity(ResourceId.patient(patient), identifier(patient), Optional.empty());
      }
      case WARD -> {
        String code = SentIdentifiers.preferring(sent, Systems.WARD).value();
        Identifier own = new Identifier().setSystem(Systems.WARD).setValue(code);
        yield new Identity(ResourceId.ward(new Ward(code)), own, Optional.empty());
      }
      case STAY -> stay(sent, (Encounter) sent.resource());
      case DEVICE -> device(sent, (Device) sent.resource());
      case USE -> use(sent, (DeviceUseStatement) sent.resource());
      case BALLOON_VOLUME, INITIAL_DRAINAGE, CARE_ITEM -> part(sent, (Observation) sent.resource());
      case URINE_RATE -> rate(sent, (Observation) sent.resource());
      default -> ofEvent(sent, SentIdentifiers.event(sent), "");
    };
  }

  private Identity stay(Sent sent, Encounter encounter) {
    BusinessId patient = patient(sent, encounter.getSubject(), "subject");
    BusinessId stay = businessId(SentIdentifiers.first(sent));
    return new Identity(ResourceId.encounter(patient, stay), identifier(stay), Optional.empty());
  }

  private Identity device(Sent sent, Device device) {
    BusinessId patient = patient(sent, device.getPatient(), "patient");
    CatheterId catheter =
        new CatheterId(SentIdentifiers.preferring(sent, Systems.CATHETER).value());
    Identifier own = new Identifier().setSystem(Systems.CATHETER).setValue(catheter.value());
    return new Identity(ResourceId.device(patient, catheter), own, Optional.empty());
  }

  private Identity use(Sent sent, DeviceUseStatement use) {
    Reference procedure = use.getDerivedFromFirstRep();
    return ofEvent(sent, eventOf(sent, procedure, "derivedFrom"), "");
  }

  private Identity part(Sent sent, Observation observation) {
    EventKey event = eventOf(sent, observation.getPartOfFirstRep(), "partOf");
    return switch (sent.profile()) {
      case INITIAL_DRAINAGE -> ofEvent(sent, event, EventIdentifier.INITIAL_DRAINAGE);
      case CARE_ITEM -> ofEvent(sent, event, item(sent, observation));
      default -> ofEvent(sent, event, "");
    };
  }

  private static String item(Sent sent, Observation observation) {
    return observation.getCode().getCoding().stream()
        .filter(coding -> BedsideTerms.ITEM_SYSTEM.equals(coding.getSystem()) && coding.hasCode())
        .map(Coding::getCode)
        .findFirst()
        .orElseThrow(
            () ->
                sent.entry()
                    .refused(
                        422,
                        IssueCode.RESOURCE_NOT_TAKEN,
                        "resource.code",
                        "The item has no code; expected one of " + BedsideTerms.ITEM_SYSTEM + "."));
  }

  /** The volume has the plain identifier of the event, and so has the first that is found. */
  private Identity rate(Sent sent, Observation observation) {
    for (Reference source : observation.getDerivedFrom()) {
      Optional<ResourceId> led = references.lead(sent, source);
      Optional<EventKey> event = led.flatMap(this::eventMadeBy);
      boolean isVolume =
          led.isPresent() && references.profileOf(led.get(), TakenProfile.URINE_OUTPUT);
      if (isVolume && event.isPresent()) {
        return ofEvent(sent, event.get(), EventIdentifier.RATE);
      }
    }
    throw sent.entry()
        .refused(
            422,
            IssueCode.MADE_BY_NO_EVENT,
            "resource.derivedFrom",
            "The rate is derived from no volume that is known; expected an Observation of "
                + TakenProfile.URINE_OUTPUT.canonical()
                + ".");
  }

  private EventKey eventOf(Sent sent, Reference procedure, String element) {
    EventKey event =
        references
            .lead(sent, procedure)
            .flatMap(this::eventMadeBy)
            .orElseThrow(
                () ->
                    sent.entry()
                        .refused(
                            422,
                            IssueCode.MADE_BY_NO_EVENT,
                            "resource." + element,
                            "The resource belongs to no Procedure that is known; expected a"
                                + " reference to one of this Bundle or of the store."));
    SentIdentifiers.requireSameEvent(sent, event);
    return event;
  }

  private Optional<EventKey> eventMadeBy(ResourceId id) {
    return references
        .sentAs(id)
        .map(sent -> of(sent).event())
        .orElseGet(
            () ->
                known
                    .resource(id)
                    .flatMap(SentIdentifiers::ofStored)
                    .filter(Token::isEvent)
                    .map(token -> token.event(id.type())));
  }

  private static Identity ofEvent(Sent sent, EventKey event, String name) {
    String type = sent.resource().fhirType();
    ResourceId id =
        name.isEmpty() ? ResourceId.ofEvent(type, event) : ResourceId.ofEvent(type, event, name);
    return new Identity(id, EventIdentifier.of(event, name), Optional.of(event));
  }

  private BusinessId patient(Sent sent, Reference reference, String element) {
    Optional<ResourceId> led = references.lead(sent, reference);
    return led.map(patients::get)
        .or(
            () ->
                led.flatMap(known::resource)
                    .filter(Patient.class::isInstance)
                    .flatMap(SentIdentifiers::ofStored)
                    .map(Identities::businessId))
        .orElseThrow(
            () ->
                sent.entry()
                    .refused(
                        422,
                        IssueCode.UNRESOLVED_REFERENCE,
                        "resource." + element,
                        "Reference "
                            + Words.shown(String.valueOf(reference.getReference()))
                            + " leads to no Patient; expected one of this Bundle or of the"
                            + " store."));
  }

  private static BusinessId businessId(Token token) {
    return new BusinessId(token.system(), token.value());
  }

  private static BusinessId businessId(Identifier identifier) {
    return new BusinessId(identifier.getSystem(), identifier.getValue());
  }

  private static Identifier identifier(BusinessId id) {
    return new Identifier().setSystem(id.system()).setValue(id.value());
  }
}
