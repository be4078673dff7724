package indwell.intake;

import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.surveillance.ConfirmedEvents;
import indwell.domain.surveillance.MonthFacts;
import indwell.domain.surveillance.WardMonth;
import indwell.domain.surveillance.WeeklySample;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/**
 * Makes the facts of one ward and month of a tree, or tells everything that is wrong with it at
 * once. Whatever the fields are called, in an object or in a table, they are read alike.
 */
final class FactsReader {
  private static final YearMonth EARLIEST = YearMonth.of(2000, 1);

  private final ObjectReader fields;
  private final Function<FactsField, String> names;
  private final LocalDate today;
  private final Faults faults;

  private FactsReader(
      Map<?, ?> tree, Function<FactsField, String> names, LocalDate today, Faults faults) {
    this.fields = ObjectReader.of(tree, "", faults);
    this.names = names;
    this.today = today;
    this.faults = faults;
  }

  /**
   * Reads facts.
   *
   * @param findings what the gate found in the tree
   * @param names what the fields are called there
   * @param place the ward and month that the request names, if it does; the tree may repeat it
   * @param today the facility's date; later dates and months cannot be true yet
   */
  static FactsReading read(
      Map<?, ?> tree,
      List<GateFinding> findings,
      Function<FactsField, String> names,
      Optional<WardMonth> place,
      LocalDate today) {
    Faults faults = new Faults(findings);
    FactsReader reader = new FactsReader(tree, names, today, faults);
    Optional<WardMonth> month = reader.place(place);
    MonthFacts facts = reader.facts(month);
    reader.fields.refuseUnknown();
    return faults.any()
        ? new FactsReading.Refused(faults.issues())
        : new FactsReading.Accepted(month.orElseThrow(), facts);
  }

  private Optional<WardMonth> place(Optional<WardMonth> named) {
    boolean required = named.isEmpty();
    Optional<String> ward = fields.requiredIf(required, name(FactsField.WARD), Kinds.WARD);
    Optional<YearMonth> month =
        fields.requiredIf(required, name(FactsField.MONTH), CalendarKinds.MONTH);
    month.ifPresent(this::requireCome);
    named.ifPresent(
        place -> {
          requireSame(FactsField.WARD, ward, place.ward().code());
          requireSame(FactsField.MONTH, month.map(YearMonth::toString), place.month().toString());
        });
    return named.or(
        () -> ward.flatMap(code -> month.map(one -> new WardMonth(new Ward(code), one))));
  }

  private void requireSame(FactsField field, Optional<String> given, String named) {
    given
        .filter(value -> !value.equals(named))
        .ifPresent(
            value ->
                faults.add(
                    IssueCode.FACTS_OF_ANOTHER_PLACE,
                    name(field),
                    "Field "
                        + name(field)
                        + " is "
                        + Quoted.text(value)
                        + "; expected "
                        + named
                        + ", as the address says, or none."));
  }

  private void requireCome(YearMonth month) {
    monthFault(month, today)
        .ifPresent(
            sentence -> faults.add(IssueCode.MONTH_OUT_OF_RANGE, name(FactsField.MONTH), sentence));
  }

  /** What is wrong with a month as such: too early, or not begun. */
  static Optional<String> monthFault(YearMonth month, LocalDate today) {
    if (month.isBefore(EARLIEST)) {
      return Optional.of("Month " + month + " is too early; expected " + EARLIEST + " or later.");
    }
    YearMonth latest = YearMonth.from(today);
    return month.isAfter(latest)
        ? Optional.of("Month " + month + " has not begun; expected " + latest + " or earlier.")
        : Optional.empty();
  }

  private MonthFacts facts(Optional<WardMonth> place) {
    Optional<Integer> patientDays =
        optional(FactsField.MANUAL_PATIENT_DAYS, FactsKinds.MANUAL_PATIENT_DAYS);
    Optional<Integer> catheterDays =
        optional(FactsField.MANUAL_CATHETER_DAYS, FactsKinds.MANUAL_CATHETER_DAYS);
    requireNotMore(FactsField.MANUAL_CATHETER_DAYS, catheterDays, patientDays);
    FactsPredictions predictions = FactsPredictions.read(fields, names, faults);
    return new MonthFacts(
        patientDays,
        catheterDays,
        sample(place),
        confirmed(place),
        predictions.cauti(),
        predictions.deviceDays(),
        predictions.baseline());
  }

  private Optional<WeeklySample> sample(Optional<WardMonth> place) {
    Optional<List<LocalDate>> dates = optional(FactsField.SAMPLED_DATES, CalendarKinds.DATES);
    boolean sums =
        has(FactsField.SAMPLED_WEEKDAY)
            || has(FactsField.SAMPLED_PATIENT_DAYS)
            || has(FactsField.SAMPLED_CATHETER_DAYS);
    if (sums && has(FactsField.SAMPLED_DATES)) {
      faults.add(
          IssueCode.SAMPLED_TWICE,
          name(FactsField.SAMPLED_DATES),
          "Sampled dates stand beside sampled sums; expected one of the two.");
    }
    dates.ifPresent(given -> requireSampleable(given, place));
    Optional<WeeklySample> counted = sums(sums);
    return dates.filter(given -> !given.isEmpty()).isPresent()
        ? dates.map(WeeklySample.Dates::of)
        : counted;
  }

  private Optional<WeeklySample> sums(boolean given) {
    var weekday = fields.requiredIf(given, name(FactsField.SAMPLED_WEEKDAY), FactsKinds.WEEKDAY);
    var patients =
        fields.requiredIf(
            given, name(FactsField.SAMPLED_PATIENT_DAYS), FactsKinds.SAMPLED_PATIENT_DAYS);
    var catheters =
        fields.requiredIf(
            given, name(FactsField.SAMPLED_CATHETER_DAYS), FactsKinds.SAMPLED_CATHETER_DAYS);
    requireNotMore(FactsField.SAMPLED_CATHETER_DAYS, catheters, patients);
    return weekday.isPresent() && patients.isPresent() && catheters.isPresent()
        ? Optional.of(new WeeklySample.Sums(weekday.get(), patients.get(), catheters.get()))
        : Optional.empty();
  }

  private void requireSampleable(List<LocalDate> dates, Optional<WardMonth> place) {
    requireInMonth(FactsField.SAMPLED_DATES, dates, place);
    for (int i = 0; i < dates.size(); i++) {
      if (dates.indexOf(dates.get(i)) < i) {
        faults.add(
            IssueCode.DATE_TWICE,
            element(FactsField.SAMPLED_DATES, i),
            "Date " + dates.get(i) + " was sampled already; expected each date once.");
      }
    }
  }

  private Optional<ConfirmedEvents> confirmed(Optional<WardMonth> place) {
    Optional<List<LocalDate>> dates = optional(FactsField.CAUTI_DATES, CalendarKinds.DATES);
    Optional<Integer> count =
        fields.requiredIf(
            has(FactsField.CAUTI_DATES),
            name(FactsField.CONFIRMED_CAUTI),
            FactsKinds.CONFIRMED_CAUTI);
    dates.ifPresent(given -> requireInMonth(FactsField.CAUTI_DATES, given, place));
    if (count.isPresent() && dates.isPresent() && dates.get().size() != count.get()) {
      faults.add(
          IssueCode.EVENTS_MISCOUNTED,
          name(FactsField.CAUTI_DATES),
          "There are "
              + dates.get().size()
              + " dates for "
              + count.get()
              + " confirmed CAUTI; expected one date for each, or none at all.");
      return Optional.empty();
    }
    return count.map(number -> new ConfirmedEvents(number, dates));
  }

  private void requireInMonth(FactsField field, List<LocalDate> dates, Optional<WardMonth> place) {
    for (int i = 0; i < dates.size(); i++) {
      LocalDate date = dates.get(i);
      if (place.isPresent() && !YearMonth.from(date).equals(place.get().month())) {
        faults.add(
            IssueCode.DATE_OUTSIDE_MONTH,
            element(field, i),
            "Date " + date + " is outside the month; expected one of " + place.get().month() + ".");
      } else if (date.isAfter(today)) {
        faults.add(
            IssueCode.DATE_OUTSIDE_MONTH,
            element(field, i),
            "Date " + date + " has not come; expected " + today + " or earlier.");
      }
    }
  }

  private void requireNotMore(
      FactsField field, Optional<Integer> catheterDays, Optional<Integer> patientDays) {
    if (catheterDays.isPresent()
        && patientDays.isPresent()
        && catheterDays.get() > patientDays.get()) {
      faults.add(
          IssueCode.MORE_CATHETER_DAYS_THAN_PATIENT_DAYS,
          name(field),
          "Catheter days of "
              + catheterDays.get()
              + " are more than the patient days of "
              + patientDays.get()
              + "; expected at most as many.");
    }
  }

  private <T> Optional<T> optional(FactsField field, FieldKind<T> kind) {
    return fields.optional(name(field), kind);
  }

  private boolean has(FactsField field) {
    return fields.has(name(field));
  }

  private String element(FactsField field, int index) {
    return name(field) + "[" + index + "]";
  }

  private String name(FactsField field) {
    return names.apply(field);
  }
}
