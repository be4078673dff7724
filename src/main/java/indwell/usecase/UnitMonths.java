package indwell.usecase;

import indwell.domain.event.Ward;
import indwell.domain.surveillance.ElectronicCheck;
import indwell.domain.surveillance.MonthFacts;
import indwell.domain.surveillance.PredictedCauti;
import indwell.domain.surveillance.PredictedCauti.Prediction;
import indwell.domain.surveillance.StandardisedRatio.NotCalculated;
import indwell.domain.surveillance.StandardisedRatios;
import indwell.domain.surveillance.Tally;
import indwell.domain.surveillance.ValidationRun;
import indwell.domain.surveillance.WardMonth;
import indwell.domain.surveillance.WeeklyEstimate;
import indwell.domain.surveillance.WeeklySample;
import indwell.domain.surveillance.Withheld;
import indwell.domain.timeline.DayCount;
import indwell.intake.FactsText;
import indwell.port.StoredFacts;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/** Works out the months of one ward, one after the other. */
final class UnitMonths {
  /** Months up to a month that its average of device days is taken over (rule C22). */
  static final int AVERAGED_MONTHS = 12;

  private final StandardisedRatios ratios;
  private final Predictions predictions;
  private final Map<WardMonth, StoredFacts> facts;

  UnitMonths(
      StandardisedRatios ratios, Predictions predictions, Map<WardMonth, StoredFacts> facts) {
    this.ratios = ratios;
    this.predictions = predictions;
    this.facts = facts;
  }

  /**
   * The months from {@code start} on; those before it only lead up to them.
   *
   * @param days every date of whole months
   */
  List<UnitMonth> of(Ward ward, SortedMap<LocalDate, DayCount> days, YearMonth start) {
    SortedMap<YearMonth, DayCount> counted = new TreeMap<>();
    days.forEach((date, count) -> counted.merge(YearMonth.from(date), count, DayCount::plus));
    List<UnitMonth> months = new ArrayList<>();
    ValidationRun patients = ValidationRun.NONE;
    ValidationRun catheters = ValidationRun.NONE;
    for (Map.Entry<YearMonth, DayCount> entry : counted.entrySet()) {
      WardMonth month = new WardMonth(ward, entry.getKey());
      MonthFacts known = known(month);
      Optional<ElectronicCheck> ofPatients =
          check(entry.getValue().patientDays(), known.manualPatientDays());
      Optional<ElectronicCheck> ofCatheters =
          check(entry.getValue().catheterDays(), known.manualCatheterDays());
      patients = patients.then(ofPatients.flatMap(ElectronicCheck::passes));
      catheters = catheters.then(ofCatheters.flatMap(ElectronicCheck::passes));
      if (!entry.getKey().isBefore(start)) {
        months.add(
            month(
                month,
                known,
                counted,
                days,
                new UnitMonth.Check(ofPatients, patients),
                new UnitMonth.Check(ofCatheters, catheters)));
      }
    }
    return months;
  }

  private UnitMonth month(
      WardMonth month,
      MonthFacts known,
      SortedMap<YearMonth, DayCount> counted,
      SortedMap<LocalDate, DayCount> days,
      UnitMonth.Check patients,
      UnitMonth.Check catheters) {
    DayCount count = counted.getOrDefault(month.month(), DayCount.NONE);
    Optional<Prediction> predicted = predictions.predict(month.ward(), count.catheterDays());
    return new UnitMonth(
        month,
        count,
        known,
        Optional.ofNullable(facts.get(month)).map(StoredFacts::version).orElse(0),
        infections(known, predicted),
        utilisation(known, count),
        known.weeklySample().map(sample -> estimate(sample, month.month(), counted, days)),
        patients,
        catheters,
        predicted);
  }

  private MonthFacts known(WardMonth month) {
    return Optional.ofNullable(facts.get(month))
        .map(stored -> FactsText.read(month, stored.canonical()))
        .orElse(MonthFacts.UNKNOWN);
  }

  private static Optional<ElectronicCheck> check(long electronic, Optional<Integer> manual) {
    return manual.map(days -> new ElectronicCheck(electronic, days));
  }

  /** What a caller predicted stands before what the table says. */
  private UnitMonth.Ratio infections(MonthFacts known, Optional<Prediction> predicted) {
    if (known.confirmed().isEmpty()) {
      return withheld(Withheld.NO_OBSERVATION);
    }
    int observed = known.confirmed().get().count();
    Optional<Tally> supplied = tally(observed, known.predictedCauti(), known.baseline());
    Optional<Tally> tally =
        supplied.or(
            () ->
                tally(
                    observed,
                    predicted.map(Prediction::predicted),
                    predictions.model().map(PredictedCauti::baseline)));
    boolean groupLacks = predictions.model().isPresent() && predicted.isEmpty();
    return tally
        .map(this::ratio)
        .orElse(withheld(groupLacks ? Withheld.NO_LOCATION_GROUP : Withheld.NO_PREDICTION));
  }

  private UnitMonth.Ratio utilisation(MonthFacts known, DayCount count) {
    return tally(
            Math.toIntExact(count.catheterDays()), known.predictedDeviceDays(), known.baseline())
        .map(this::ratio)
        .orElse(withheld(Withheld.NO_PREDICTION));
  }

  private static Optional<Tally> tally(
      int observed, Optional<BigDecimal> predicted, Optional<String> baseline) {
    return predicted.flatMap(many -> baseline.map(name -> new Tally(observed, many, name)));
  }

  private UnitMonth.Ratio ratio(Tally tally) {
    return new UnitMonth.Ratio(Optional.of(tally), ratios.of(tally));
  }

  private static UnitMonth.Ratio withheld(Withheld reason) {
    return new UnitMonth.Ratio(Optional.empty(), new NotCalculated(reason));
  }

  private static WeeklyEstimate estimate(
      WeeklySample sample,
      YearMonth month,
      SortedMap<YearMonth, DayCount> counted,
      SortedMap<LocalDate, DayCount> days) {
    SortedMap<YearMonth, DayCount> averaged =
        counted.tailMap(month.minusMonths(AVERAGED_MONTHS - 1)).headMap(month.plusMonths(1));
    return new WeeklyEstimate(
        sampled(sample, days),
        counted.getOrDefault(month, DayCount.NONE).patientDays(),
        sample.weekdays(),
        averaged.values().stream().mapToLong(DayCount::catheterDays).sum(),
        averaged.size());
  }

  private static DayCount sampled(WeeklySample sample, SortedMap<LocalDate, DayCount> days) {
    if (sample instanceof WeeklySample.Sums sums) {
      return new DayCount(sums.patientDays(), sums.catheterDays());
    }
    return ((WeeklySample.Dates) sample)
        .dates().stream()
            .map(date -> days.getOrDefault(date, DayCount.NONE))
            .reduce(DayCount.NONE, DayCount::plus);
  }
}
