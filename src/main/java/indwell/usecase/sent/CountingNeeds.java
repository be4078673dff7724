package indwell.usecase.sent;

import indwell.domain.event.Drainage;
import indwell.domain.event.EventType;
import indwell.domain.event.Route;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.bundle.StatedTimes;
import indwell.fhir.bundle.TakenProfile;
import indwell.fhir.bundle.TakenProfile.Role;
import indwell.fhir.map.EnteredInError;
import indwell.fhir.map.FhirJson;
import indwell.fhir.term.Extensions;
import indwell.fhir.term.Hl7;
import indwell.usecase.sent.Verdict.Follows;
import indwell.usecase.sent.Verdict.Needed;
import indwell.usecase.sent.Verdict.ReferredTo;
import indwell.usecase.sent.Verdict.SaysNothing;
import indwell.usecase.sent.Verdict.TakenBack;
import indwell.usecase.sent.Verdict.Unreadable;
import indwell.usecase.transaction.Words;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import org.hl7.fhir.r4.model.DateTimeType;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Encounter.EncounterLocationComponent;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Period;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r4.model.Specimen;
import org.hl7.fhir.r4.model.Type;

/**
 * Looks whether a resource has what counting needs, where a count would come out wrong without it:
 * that it took place, when to the second and in which zone, and what a placing and a movement are.
 * Profiles ask for more; a resource that meets its profile passes.
 */
final class CountingNeeds {
  private static final String NOT_TAKEN_PLACE = "what they are about did not take place";
  private static final Set<String> OF_NO_EVENT =
      Set.of("planned", "cancelled", "not-done", "preparation", "registered");
  private static final Set<String> OF_AN_EVENT =
      Set.of("completed", "final", "amended", "corrected", "in-progress", "finished");

  private final Resource resource;
  private final List<Issue> missing = new ArrayList<>();

  private CountingNeeds(Resource resource) {
    this.resource = resource;
  }

  /**
   * What the resource is to the count.
   *
   * @param profile the one of ours that it claims or that its code implies
   */
  static Verdict of(Resource resource, Optional<TakenProfile> profile) {
    if (EnteredInError.isMarked(resource)) {
      return new TakenBack();
    }
    if (FhirJson.isPart(resource)) {
      CountingNeeds part = new CountingNeeds(resource);
      part.need("meta.tag", "It is tagged SUBSETTED and so only a part of a resource");
      return part.found();
    }
    if (profile.isEmpty()) {
      return new SaysNothing("they have no code or profile that is counted");
    }
    if (profile.get().role() == Role.PART || profile.get() == TakenProfile.URINE_RATE) {
      return new Follows();
    }
    return new CountingNeeds(resource).verdict();
  }

  private Verdict verdict() {
    if (resource instanceof Encounter encounter) {
      return of(encounter);
    }
    Optional<String> status = statusOfWhatTookPlace();
    if (status.filter(OF_NO_EVENT::contains).isPresent()) {
      return new SaysNothing(NOT_TAKEN_PLACE);
    }
    status.ifPresent(this::needTaken);
    if (resource instanceof Procedure procedure) {
      check(procedure);
    } else if (resource instanceof Observation observation) {
      check(observation);
    } else if (resource instanceof Specimen specimen) {
      needTime("collection.collected", specimen.getCollection().getCollected());
    }
    return found();
  }

  private Verdict found() {
    return missing.isEmpty() ? new Needed() : new Unreadable(missing);
  }

  /** A Specimen is there or not, whatever its status. */
  private Optional<String> statusOfWhatTookPlace() {
    if (resource instanceof Procedure procedure) {
      return Optional.of(String.valueOf(procedure.getStatusElement().asStringValue()));
    }
    return resource instanceof Observation observation
        ? Optional.of(String.valueOf(observation.getStatusElement().asStringValue()))
        : Optional.empty();
  }

  private void needTaken(String status) {
    if (!OF_AN_EVENT.contains(status)) {
      need("status", "Status " + Words.shown(status) + " does not say that it took place");
    }
  }

  private Verdict of(Encounter encounter) {
    List<Extension> movements = encounter.getExtensionsByUrl(Extensions.MOVEMENT);
    if (!movements.isEmpty()) {
      movements.forEach(this::checkMovement);
      return found();
    }
    String status = String.valueOf(encounter.getStatusElement().asStringValue());
    if (OF_NO_EVENT.contains(status)) {
      return new ReferredTo(Optional.of(NOT_TAKEN_PLACE));
    }
    if (encounter.getLocation().stream().allMatch(CountingNeeds::isNoWard)) {
      boolean neverOpened = Hl7.CLASS_UNKNOWN.code().equals(encounter.getClass_().getCode());
      return new ReferredTo(neverOpened ? Optional.empty() : Optional.of("they name no ward"));
    }
    needTaken(status);
    checkEntries(encounter);
    return found();
  }

  private static boolean isNoWard(EncounterLocationComponent entry) {
    return entry.hasPhysicalType() && !ward(entry);
  }

  private static boolean ward(EncounterLocationComponent entry) {
    return Hl7.WARD.isIn(entry.getPhysicalType());
  }

  private void checkEntries(Encounter encounter) {
    String of = encounter.getClass_().getCode();
    if (!Hl7.INPATIENT.code().equals(of) && !Hl7.AMBULATORY.code().equals(of)) {
      need(
          "class",
          "Class " + Words.shown(String.valueOf(of)) + " does not say whether it is inpatient");
    }
    for (EncounterLocationComponent entry : encounter.getLocation()) {
      if (!entry.hasPhysicalType()) {
        need("location.physicalType", "A location does not say whether it is a ward");
      } else if (ward(entry)) {
        needTime("location.period.start", entry.getPeriod().getStartElement());
        if (entry.getPeriod().hasEnd()) {
          needTime("location.period.end", entry.getPeriod().getEndElement());
        }
      }
    }
    if (encounter.getStatus() == Encounter.EncounterStatus.FINISHED) {
      needTime("period.end", encounter.getPeriod().getEndElement());
    }
  }

  private void checkMovement(Extension movement) {
    Optional<EventType> kind = coded(movement, "kind", EventType::ofCode);
    if (kind.isEmpty()) {
      need("extension", "A movement has no kind that is known");
    } else if (kind.get() != EventType.PATIENT_DISCHARGED && part(movement, "ward").isEmpty()) {
      need("extension", "A movement of kind " + kind.get().code() + " names no ward");
    }
    if (part(movement, "event").isEmpty()) {
      need("extension", "A movement names no event");
    }
    needTime("extension", part(movement, "at").orElseGet(DateTimeType::new));
  }

  private void check(Procedure procedure) {
    needTime("performed", procedure.getPerformed());
    boolean places =
        Set.of(TakenProfile.INSERTION, TakenProfile.EXCHANGE)
            .contains(TakenProfile.of(procedure).orElseThrow());
    if (!places) {
      return;
    }
    Extension placement = procedure.getExtensionByUrl(Extensions.PLACEMENT);
    if (placement == null
        || coded(placement, "route", Route::ofCode).isEmpty()
        || coded(placement, "drainage", Drainage::ofCode).isEmpty()) {
      need("extension", "The placement does not say route and drainage, which decide what counts");
    }
  }

  private void check(Observation observation) {
    if (observation.hasEffectivePeriod()) {
      Period period = observation.getEffectivePeriod();
      needTime("effective.start", period.getStartElement());
      needTime("effective.end", period.getEndElement());
    } else {
      needTime("effective", observation.getEffective());
    }
  }

  private static Optional<Type> part(Extension extension, String name) {
    return Optional.ofNullable(extension.getExtensionByUrl(name)).map(Extension::getValue);
  }

  private static <T> Optional<T> coded(
      Extension extension, String name, Function<String, Optional<T>> ofCode) {
    return part(extension, name)
        .filter(Type::isPrimitive)
        .map(Type::primitiveValue)
        .flatMap(ofCode);
  }

  private void needTime(String element, Type time) {
    if (!StatedTimes.isInstant(time)) {
      String shown = time != null && time.isPrimitive() ? time.primitiveValue() : "";
      need(element, "Time " + Words.shown(shown) + " is no date-time with seconds and an offset");
    }
  }

  private void need(String element, String what) {
    missing.add(
        Issue.error(
            IssueCode.NOT_COUNTABLE,
            resource.fhirType() + "." + element,
            what + "; expected what its profile asks for."));
  }
}
