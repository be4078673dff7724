package indwell.domain;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Drainage;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventKey;
import indwell.domain.event.Indication;
import indwell.domain.event.InsertionFindings;
import indwell.domain.event.InsertionStep;
import indwell.domain.event.Movement;
import indwell.domain.event.PatientMeasurement;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.domain.event.Route;
import indwell.domain.event.StatedIndication;
import indwell.domain.event.StepResult;
import indwell.domain.event.Ward;
import indwell.domain.time.FacilityCalendar;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * One line of a {@link TimelineSentence}: {@code DATE TIME VERB WORDS key=value}.
 *
 * <pre>
 * 06-01 10:00 admitted W1                     outpatient, stay=E2
 * 06-02 09:00 transferred W2                  outpatient, stay=E2
 * 06-01 11:00 inserted c1                     suprapubic, no-bag, for=perioperative,
 *                                             surgery=TIME, label=10, filled=7.5, dwell=7,
 *                                             steps=hand-hygiene:not-done, before-admission
 * 06-02 11:00 exchanged c1 c2                 as inserted, for c2
 * 06-03 11:00 removed c1
 * 06-02 11:00 reviewed c1 still-needed        for=acute-retention
 * 06-02 11:00 reviewed c1 not-needed
 * 06-02 11:00 securement c1
 * 06-02 11:00 checked c1
 * 06-02 11:00 specimen c1
 * 06-02 11:00 urine 200                       from=TIME or hours=6, catheter=c1
 * 06-02 11:00 weighed 70
 * 06-03 12:00 discharged                      with-catheter, stay=E2
 * </pre>
 *
 * A date without a year lies in 2024. A time may carry seconds; an instant may be written with its
 * offset, {@code 2024-06-01T10:00+02:00}. The event id is {@code e} and the number of the line,
 * unless {@code id=} gives another; the stay is {@code E1} unless {@code stay=} names another.
 */
final class EventLine {

  private static final String YEAR = "2024-";

  private final Instant at;
  private final String verb;
  private final List<String> words = new ArrayList<>();
  private final Map<String, String> values = new HashMap<>();
  private final Envelope envelope;
  private final FacilityCalendar calendar;

  private EventLine(String line, int number, FacilityCalendar calendar) {
    this.calendar = calendar;
    List<String> parts = new ArrayList<>(List.of(line.split("\\s+")));
    String first = parts.remove(0);
    this.at = instant(first.contains("T") ? first : first + " " + parts.remove(0), calendar);
    this.verb = parts.remove(0);
    for (String part : parts) {
      int equals = part.indexOf('=');
      if (equals < 0) {
        words.add(part);
      } else {
        values.put(part.substring(0, equals), part.substring(equals + 1));
      }
    }
    this.envelope =
        new Envelope(
            new EventKey(value("source").orElse("ward-system"), value("id").orElse("e" + number)),
            1,
            at,
            new BusinessId("https://hospital.example/patient", "p1"),
            Optional.empty());
  }

  static BedsideEvent read(String line, int number, FacilityCalendar calendar) {
    return new EventLine(line, number, calendar).event();
  }

  static Instant instant(String text, FacilityCalendar calendar) {
    if (text.contains("T") && (text.endsWith("Z") || text.matches(".*[+-]\\d\\d:\\d\\d"))) {
      return OffsetDateTime.parse(text).toInstant();
    }
    String[] dateAndTime = text.split("[ T]");
    return calendar.at(date(dateAndTime[0]), LocalTime.parse(dateAndTime[1]));
  }

  static LocalDate date(String text) {
    return LocalDate.parse(text.length() == 5 ? YEAR + text : text);
  }

  private BedsideEvent event() {
    return switch (verb) {
      case "admitted" -> new Movement.Admission(envelope, stay(), ward(), !has("outpatient"));
      case "transferred" -> new Movement.Transfer(envelope, stay(), ward(), !has("outpatient"));
      case "discharged" ->
          new Movement.Discharge(
              envelope, stay(), has("with-catheter") ? Optional.of(true) : Optional.empty());
      case "inserted" -> new CatheterEvent.Insertion(envelope, stay(), placing(catheter(0)));
      case "exchanged" ->
          new CatheterEvent.Exchange(envelope, Optional.empty(), catheter(0), placing(catheter(1)));
      case "removed" ->
          new CatheterEvent.Removal(envelope, Optional.empty(), catheter(0), Optional.empty());
      case "reviewed" ->
          new CatheterEvent.NeedReview(
              envelope, Optional.empty(), catheter(0), !has("not-needed"), reviewIndication());
      case "securement" ->
          new CatheterEvent.SecurementChange(
              envelope, Optional.empty(), catheter(0), Optional.empty());
      case "checked" ->
          new CatheterEvent.CareCheck(
              envelope, Optional.empty(), catheter(0), Map.of(CareItem.BAG_OFF_FLOOR, true));
      case "specimen" ->
          new CatheterEvent.SpecimenCollection(
              envelope, Optional.empty(), catheter(0), Optional.empty());
      case "urine" ->
          new PatientMeasurement.UrineOutput(
              envelope,
              Optional.empty(),
              from(),
              new BigDecimal(words.get(0)),
              value("catheter").map(CatheterId::new));
      case "weighed" ->
          new PatientMeasurement.BodyWeight(
              envelope, Optional.empty(), new BigDecimal(words.get(0)));
      default -> throw new IllegalArgumentException("No such verb: " + verb);
    };
  }

  private Optional<String> value(String key) {
    return Optional.ofNullable(values.get(key));
  }

  private boolean has(String word) {
    return words.contains(word);
  }

  private BusinessId stay() {
    return new BusinessId("https://hospital.example/stay", value("stay").orElse("E1"));
  }

  private Ward ward() {
    return new Ward(words.get(0));
  }

  private CatheterId catheter(int index) {
    return new CatheterId(words.get(index));
  }

  private Instant from() {
    return value("from")
        .map(text -> instant(text.replace('_', ' '), calendar))
        .orElseGet(() -> at.minusSeconds(3600 * Long.parseLong(values.get("hours"))));
  }

  private Optional<StatedIndication> reviewIndication() {
    return has("not-needed") && value("for").isEmpty() ? Optional.empty() : Optional.of(why());
  }

  private StatedIndication why() {
    String code = value("for").orElse(Indication.ACUTE_RETENTION.code());
    return new StatedIndication(Indication.ofCode(code).orElseThrow(), Optional.empty());
  }

  private Placing placing(CatheterId catheter) {
    return new Placing(
        catheter,
        has("suprapubic") ? Route.SUPRAPUBIC : Route.URETHRAL,
        has("no-bag") ? Drainage.NONE : Drainage.BAG,
        product(),
        why(),
        value("surgery").map(text -> instant(text.replace('_', ' '), calendar)),
        findings(),
        steps());
  }

  private Product product() {
    return new Product(
        14,
        value("label").map(BigDecimal::new),
        Optional.empty(),
        OptionalInt.empty(),
        Optional.empty(),
        Optional.empty(),
        value("dwell")
            .map(days -> OptionalInt.of(Integer.parseInt(days)))
            .orElse(OptionalInt.empty()));
  }

  private InsertionFindings findings() {
    return new InsertionFindings(
        value("filled").map(BigDecimal::new),
        Optional.empty(),
        Optional.empty(),
        OptionalInt.empty(),
        has("before-admission") ? Optional.of(true) : Optional.empty());
  }

  private Map<InsertionStep, StepResult> steps() {
    Map<InsertionStep, StepResult> steps = new HashMap<>();
    for (String step : value("steps").map(all -> all.split(",")).orElse(new String[0])) {
      String[] codeAndResult = step.split(":");
      steps.put(InsertionStep.ofCode(codeAndResult[0]).orElseThrow(), result(codeAndResult[1]));
    }
    return steps;
  }

  private static StepResult result(String code) {
    return StepResult.ofCode(code).orElseThrow();
  }
}
