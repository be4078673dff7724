package indwell.web.page;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.CatheterEvent.Removal;
import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.event.Movement.Arrival;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.fhir.term.BedsideTerms;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** What an event says, in a few words with units. */
public final class EventWords {
  private EventWords() {}

  /** The details of an event. */
  public static String of(BedsideEvent event) {
    return switch (event.type()) {
      case PATIENT_ADMITTED, PATIENT_TRANSFERRED -> arrival((Arrival) event);
      case PATIENT_DISCHARGED -> discharge((Discharge) event);
      case CATHETER_INSERTED -> insertion((Insertion) event);
      case CATHETER_EXCHANGED -> exchange((Exchange) event);
      case CATHETER_REMOVED ->
          about(((Removal) event).catheter().value(), ((Removal) event).reason().orElse(""));
      case NEED_REVIEWED -> review((NeedReview) event);
      case SECUREMENT_CHANGED ->
          about(
              ((SecurementChange) event).catheter().value(),
              ((SecurementChange) event).site().orElse(""));
      case CARE_CHECKED -> check((CareCheck) event);
      case URINE_MEASURED -> ((UrineOutput) event).volumeMl().toPlainString() + " mL";
      case SPECIMEN_COLLECTED -> specimen((SpecimenCollection) event);
      case WEIGHT_MEASURED -> ((BodyWeight) event).kg().toPlainString() + " kg";
    };
  }

  private static String about(String catheter, String more) {
    return more.isEmpty() ? catheter : catheter + ": " + more;
  }

  private static String arrival(Arrival event) {
    return event.ward().code() + (event.inpatient() ? "" : ", not inpatient");
  }

  private static String discharge(Discharge event) {
    return event.withCatheter().orElse(false) ? "with the catheter, on purpose" : "";
  }

  private static String insertion(Insertion event) {
    return about(
        event.catheter().value(),
        Words.of(event.placing()) + ", " + Words.of(event.placing().indication()));
  }

  private static String exchange(Exchange event) {
    return event.catheter().value()
        + " out, "
        + event.replacement().catheter().value()
        + " in: "
        + Words.of(event.replacement());
  }

  private static String review(NeedReview event) {
    String answer = event.stillNeeded() ? "still needed" : "no longer needed";
    String why = event.indication().map(stated -> ", " + Words.of(stated)).orElse("");
    return about(event.catheter().value(), answer + why);
  }

  private static String check(CareCheck event) {
    String wrong =
        Stream.of(CareItem.values())
            .filter(item -> Boolean.FALSE.equals(event.items().get(item)))
            .map(item -> BedsideTerms.of(item).display().toLowerCase(Locale.ROOT))
            .collect(Collectors.joining(", "));
    return about(
        event.catheter().value(),
        wrong.isEmpty() ? event.items().size() + " in order" : "not in order: " + wrong);
  }

  private static String specimen(SpecimenCollection event) {
    return about(
        event.catheter().value(), event.purpose().map(purpose -> purpose.code()).orElse(""));
  }
}
