package indwell.docs;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.CatheterEvent.Removal;
import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Drainage;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventKey;
import indwell.domain.event.Indication;
import indwell.domain.event.InsertionFindings;
import indwell.domain.event.InsertionStep;
import indwell.domain.event.Movement.Admission;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Movement.Transfer;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.domain.event.Route;
import indwell.domain.event.StatedIndication;
import indwell.domain.event.StepResult;
import indwell.domain.event.Ward;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Reads the situations of docs/rules.md: events in words, divided by semicolons. */
final class BedsideSentence {
  private static final BusinessId PATIENT = new BusinessId("urn:test:patient", "P-17");
  private static final BusinessId STAY = new BusinessId("urn:test:stay", "S-17");
  private static final String TIME = "(\\d\\d-\\d\\d \\d\\d:\\d\\d(?::\\d\\d)?)";
  private static final Pattern EVENT =
      Pattern.compile("(admitted|arrived|moved) (\\w+) " + TIME + "()|" + otherEvents());
  private static final Pattern URINE =
      Pattern.compile("urine ([\\d.]+) mL " + TIME + " to " + TIME);
  private static final Pattern WEIGHT = Pattern.compile("weight ([\\d.]+) kg " + TIME);

  private BedsideSentence() {}

  private static String otherEvents() {
    return "(inserted|removed|reviewed|secured|checked|discharged|exchanged)"
        + "((?: c\\d)*| with catheter) "
        + TIME
        + "(.*)";
  }

  /** The events of a situation. */
  static List<BedsideEvent> events(String given) {
    List<BedsideEvent> events = new ArrayList<>();
    for (String clause : given.split("; ", -1)) {
      events.add(event(clause, "e" + events.size()));
    }
    return events;
  }

  /** A time as the page writes it. */
  static Instant time(String monthDayTime) {
    String seconds = monthDayTime.length() == "06-01 08:00".length() ? ":00" : "";
    return Instant.parse("2024-" + monthDayTime.replace(' ', 'T') + seconds + "Z");
  }

  private static BedsideEvent event(String clause, String id) {
    Matcher urine = URINE.matcher(clause);
    if (urine.matches()) {
      return new UrineOutput(
          envelope(id, urine.group(3)),
          Optional.empty(),
          time(urine.group(2)),
          new BigDecimal(urine.group(1)),
          Optional.empty());
    }
    Matcher weight = WEIGHT.matcher(clause);
    if (weight.matches()) {
      BigDecimal kg = new BigDecimal(weight.group(1));
      return new BodyWeight(envelope(id, weight.group(2)), Optional.empty(), kg);
    }
    Matcher event = EVENT.matcher(clause);
    if (!event.matches()) {
      throw new IllegalArgumentException("docs/rules.md says '" + clause + "': not a known event");
    }
    return event.group(1) != null
        ? movement(event, envelope(id, event.group(3)))
        : atCatheter(event, envelope(id, event.group(7)));
  }

  private static BedsideEvent movement(Matcher event, Envelope envelope) {
    Ward ward = new Ward(event.group(2));
    return switch (event.group(1)) {
      case "admitted" -> new Admission(envelope, STAY, ward, true);
      case "arrived" -> new Admission(envelope, STAY, ward, false);
      default -> new Transfer(envelope, STAY, ward, true);
    };
  }

  private static BedsideEvent atCatheter(Matcher event, Envelope envelope) {
    String named = event.group(6).strip();
    String rest = event.group(8);
    CatheterId catheter = new CatheterId(named.matches("c\\d.*") ? named.substring(0, 2) : "c1");
    Optional<BusinessId> none = Optional.empty();
    return switch (event.group(5)) {
      case "inserted" -> new Insertion(envelope, STAY, placing(catheter, rest));
      case "removed" -> new Removal(envelope, none, catheter, Optional.empty());
      case "secured" -> new SecurementChange(envelope, none, catheter, Optional.empty());
      case "checked" -> new CareCheck(envelope, none, catheter, Map.of());
      case "reviewed" -> review(envelope, catheter, rest);
      case "exchanged" ->
          new Exchange(
              envelope, none, catheter, placing(new CatheterId(named.substring(3, 5)), rest));
      default -> new Discharge(envelope, STAY, Optional.of(named.equals("with catheter")));
    };
  }

  private static NeedReview review(Envelope envelope, CatheterId catheter, String rest) {
    boolean needed = !rest.contains("not needed");
    Optional<StatedIndication> why = needed ? Optional.of(indication(rest)) : Optional.empty();
    return new NeedReview(envelope, Optional.empty(), catheter, needed, why);
  }

  private static Placing placing(CatheterId catheter, String rest) {
    return new Placing(
        catheter,
        rest.contains("suprapubic") ? Route.SUPRAPUBIC : Route.URETHRAL,
        rest.contains("without bag") ? Drainage.NONE : Drainage.BAG,
        new Product(
            16,
            first(rest, "balloon ([\\d.]+) mL").map(BigDecimal::new),
            Optional.empty(),
            OptionalInt.empty(),
            Optional.empty(),
            Optional.empty(),
            first(rest, "at most (\\d+) days")
                .map(days -> OptionalInt.of(Integer.parseInt(days)))
                .orElse(OptionalInt.empty())),
        indication(rest),
        first(rest, "surgery ended " + TIME).map(BedsideSentence::time),
        new InsertionFindings(
            first(rest, "filled ([\\d.]+) mL").map(BigDecimal::new),
            Optional.empty(),
            Optional.empty(),
            OptionalInt.empty(),
            Optional.empty()),
        steps(rest));
  }

  private static StatedIndication indication(String rest) {
    String code = first(rest, "for ([a-z-]+)").orElse("acute-retention");
    return new StatedIndication(Indication.ofCode(code).orElseThrow(), Optional.empty());
  }

  private static Map<InsertionStep, StepResult> steps(String rest) {
    Matcher step = Pattern.compile("([a-z-]+) (done|not-done|not-applicable)").matcher(rest);
    return step.find()
        ? Map.of(
            InsertionStep.ofCode(step.group(1)).orElseThrow(),
            StepResult.ofCode(step.group(2)).orElseThrow())
        : Map.of();
  }

  private static Optional<String> first(String text, String pattern) {
    Matcher found = Pattern.compile(pattern).matcher(text);
    return found.find() ? Optional.of(found.group(1)) : Optional.empty();
  }

  private static Envelope envelope(String id, String at) {
    return new Envelope(new EventKey("test", id), 1, time(at), PATIENT, Optional.empty());
  }
}
