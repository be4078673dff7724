package indwell.intake;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.CatheterEvent.Removal;
import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.event.CatheterId;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventType;
import indwell.domain.event.InsertionStep;
import indwell.domain.event.Movement.Arrival;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.event.StepResult;
import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * An event as the tree that {@link EventReader} reads, so that what did not come as an event is
 * held to the rules of one all the same. Times are written in UTC.
 */
public final class EventTree {
  private EventTree() {}

  /** The tree of a version with status {@code final}; its recorder is left out. */
  public static Map<String, Object> of(BedsideEvent event, int version) {
    Map<String, Object> tree = envelope(event.key(), version, event.type(), event.patient());
    tree.put("occurredAt", event.at().toString());
    event.encounterNamed().ifPresent(stay -> tree.put("encounter", identifier(stay)));
    tree.put("details", details(event));
    return tree;
  }

  /** The tree of a version that takes the event back. */
  public static Map<String, Object> withdrawal(
      EventKey key, int version, EventType type, BusinessId patient) {
    Map<String, Object> tree = envelope(key, version, type, patient);
    tree.put("status", EventStatus.ENTERED_IN_ERROR.code());
    return tree;
  }

  private static Map<String, Object> envelope(
      EventKey key, int version, EventType type, BusinessId patient) {
    Map<String, Object> tree = new LinkedHashMap<>();
    tree.put("source", key.source());
    tree.put("eventId", key.eventId());
    tree.put("version", BigDecimal.valueOf(version));
    tree.put("type", type.code());
    tree.put("patient", identifier(patient));
    return tree;
  }

  private static Map<String, Object> identifier(BusinessId id) {
    Map<String, Object> tree = new LinkedHashMap<>();
    tree.put("system", id.system());
    tree.put("value", id.value());
    return tree;
  }

  private static Map<String, Object> details(BedsideEvent event) {
    return switch (event.type()) {
      case PATIENT_ADMITTED, PATIENT_TRANSFERRED -> arrival((Arrival) event);
      case PATIENT_DISCHARGED -> discharge((Discharge) event);
      case CATHETER_INSERTED -> PlacingTree.of(((Insertion) event).placing());
      case CATHETER_EXCHANGED -> exchange((Exchange) event);
      case CATHETER_REMOVED -> removal((Removal) event);
      case NEED_REVIEWED -> review((NeedReview) event);
      case SECUREMENT_CHANGED -> securement((SecurementChange) event);
      case CARE_CHECKED -> check((CareCheck) event);
      case URINE_MEASURED -> urine((UrineOutput) event);
      case SPECIMEN_COLLECTED -> specimen((SpecimenCollection) event);
      case WEIGHT_MEASURED -> weight((BodyWeight) event);
    };
  }

  private static Map<String, Object> arrival(Arrival event) {
    Map<String, Object> details = new LinkedHashMap<>();
    details.put("ward", event.ward().code());
    details.put("inpatient", event.inpatient());
    return details;
  }

  private static Map<String, Object> discharge(Discharge event) {
    Map<String, Object> details = new LinkedHashMap<>();
    put(details, "withCatheter", event.withCatheter());
    return details;
  }

  private static Map<String, Object> exchange(Exchange event) {
    Map<String, Object> details = about(event.catheter());
    details.put("replacement", PlacingTree.of(event.replacement()));
    return details;
  }

  private static Map<String, Object> removal(Removal event) {
    Map<String, Object> details = about(event.catheter());
    put(details, "reason", event.reason());
    return details;
  }

  private static Map<String, Object> review(NeedReview event) {
    Map<String, Object> details = about(event.catheter());
    details.put("stillNeeded", event.stillNeeded());
    event.indication().ifPresent(stated -> PlacingTree.put(details, stated));
    return details;
  }

  private static Map<String, Object> securement(SecurementChange event) {
    Map<String, Object> details = about(event.catheter());
    put(details, "site", event.site());
    return details;
  }

  private static Map<String, Object> check(CareCheck event) {
    Map<String, Object> items = new LinkedHashMap<>();
    for (Map.Entry<CareItem, Boolean> item : event.items().entrySet()) {
      items.put(item.getKey().code(), item.getValue());
    }
    Map<String, Object> details = about(event.catheter());
    details.put("items", items);
    return details;
  }

  private static Map<String, Object> urine(UrineOutput event) {
    Map<String, Object> details = new LinkedHashMap<>();
    details.put("volumeMl", event.volumeMl());
    details.put("from", event.from().toString());
    put(details, "catheterId", event.catheter().map(CatheterId::value));
    return details;
  }

  private static Map<String, Object> specimen(SpecimenCollection event) {
    Map<String, Object> details = about(event.catheter());
    put(details, "purpose", event.purpose().map(purpose -> purpose.code()));
    return details;
  }

  private static Map<String, Object> weight(BodyWeight event) {
    Map<String, Object> details = new LinkedHashMap<>();
    details.put("kg", event.kg());
    return details;
  }

  private static Map<String, Object> about(CatheterId catheter) {
    Map<String, Object> details = new LinkedHashMap<>();
    details.put("catheterId", catheter.value());
    return details;
  }

  static void put(Map<String, Object> tree, String name, Optional<?> value) {
    value.ifPresent(stated -> tree.put(name, stated));
  }

  static Map<String, Object> steps(Map<InsertionStep, StepResult> steps) {
    Map<String, Object> tree = new LinkedHashMap<>();
    steps.forEach((step, result) -> tree.put(step.code(), result.code()));
    return tree;
  }
}
