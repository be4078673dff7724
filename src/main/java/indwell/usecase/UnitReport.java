package indwell.usecase;

import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.surveillance.ConfirmedEvents;
import indwell.domain.surveillance.GChart;
import indwell.domain.surveillance.StandardisedRatio;
import indwell.domain.surveillance.StandardisedRatios;
import indwell.domain.surveillance.Tally;
import indwell.domain.surveillance.UChart;
import indwell.domain.surveillance.Withheld;
import indwell.domain.timeline.Remark;
import indwell.port.SurveillanceFacts;
import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** What surveillance says of wards, month by month: counts of events and facts of people. */
public final class UnitReport {
  /** The longest range that one question may span, in months. */
  public static final int MOST_MONTHS = 60;

  private final DeviceDays deviceDays;
  private final SurveillanceFacts facts;
  private final StandardisedRatios ratios;
  private final Predictions predictions;
  private final Facility facility;

  public UnitReport(
      DeviceDays deviceDays,
      SurveillanceFacts facts,
      StandardisedRatios ratios,
      Predictions predictions,
      Facility facility) {
    this.deviceDays = deviceDays;
    this.facts = facts;
    this.ratios = ratios;
    this.predictions = predictions;
    this.facility = facility;
  }

  /**
   * What is asked.
   *
   * @param ward one ward, or all that ever had an inpatient
   */
  public record Question(Optional<Ward> ward, YearMonth start, YearMonth endInclusive) {}

  /**
   * The report.
   *
   * @param months by ward (code point), then month
   * @param wards by code point
   * @param infections pooled over all wards and months
   * @param utilisation likewise
   * @param predictions what the predictions rest on
   * @param remarks what is doubtful in the events of these months
   */
  public record Report(
      Question question,
      List<UnitMonth> months,
      List<UnitWard> wards,
      StandardisedRatio infections,
      StandardisedRatio utilisation,
      Predictions predictions,
      List<Remark> remarks) {}

  /**
   * Works the report out. The months before the first one are counted too, because averages and
   * runs of months reach back.
   *
   * @param now a month of which the last count time has not come by then is refused
   */
  public Asked<Report> of(Question question, Instant now) {
    if (question.endInclusive().isBefore(question.start())) {
      return badEnd(
          "The end "
              + question.endInclusive()
              + " is before the start "
              + question.start()
              + "; expected a month at or after it.");
    }
    if (ChronoUnit.MONTHS.between(question.start(), question.endInclusive()) >= MOST_MONTHS) {
      return badEnd(
          "The range from "
              + question.start()
              + " through "
              + question.endInclusive()
              + " is too long; expected at most "
              + MOST_MONTHS
              + " months.");
    }
    YearMonth first = question.start().minusMonths(UnitMonths.AVERAGED_MONTHS - 1);
    DeviceDays.Question days =
        new DeviceDays.Question(
            question.ward(), first.atDay(1), question.endInclusive().atEndOfMonth());
    return deviceDays
        .count(days, now)
        .fold(table -> Asked.answer(report(question, first, table)), Asked.Refused::new);
  }

  private static Asked<Report> badEnd(String sentence) {
    return Asked.refuse(IssueCode.BAD_PARAMETER, "end", sentence);
  }

  private Report report(Question question, YearMonth first, DeviceDays.Table table) {
    UnitMonths unitMonths =
        new UnitMonths(ratios, predictions, facts.newest(first, question.endInclusive()));
    List<UnitMonth> all = new ArrayList<>();
    List<UnitWard> wards = new ArrayList<>();
    table
        .counts()
        .forEach(
            (ward, days) -> {
              List<UnitMonth> months = unitMonths.of(ward, days, question.start());
              all.addAll(months);
              wards.add(ward(ward, months));
            });
    return new Report(
        question,
        all,
        wards,
        pooled(all, UnitMonth::infections),
        pooled(all, UnitMonth::utilisation),
        predictions,
        table.remarks().stream().filter(remark -> within(question, remark)).toList());
  }

  private boolean within(Question question, Remark remark) {
    YearMonth month = YearMonth.from(facility.calendar().dateOf(remark.at()));
    return !month.isBefore(question.start());
  }

  private StandardisedRatio pooled(
      List<UnitMonth> months, Function<UnitMonth, UnitMonth.Ratio> ratio) {
    List<Tally> tallies =
        months.stream().flatMap(one -> ratio.apply(one).tally().stream()).toList();
    return ratios.pooled(tallies);
  }

  private UnitWard ward(Ward ward, List<UnitMonth> months) {
    List<UnitMonth> confirmed =
        months.stream().filter(month -> month.facts().confirmed().isPresent()).toList();
    boolean dated = confirmed.stream().allMatch(UnitReport::dated);
    Optional<GChart> gaps = dated ? GChart.ofDates(dates(confirmed)) : Optional.empty();
    return new UnitWard(
        ward,
        pooled(months, UnitMonth::infections),
        pooled(months, UnitMonth::utilisation),
        rates(confirmed),
        gaps,
        gaps.isPresent()
            ? Optional.empty()
            : Optional.of(dated ? Withheld.NO_EVENT_DATES : Withheld.EVENTS_WITHOUT_DATES),
        months.size() - confirmed.size());
  }

  private static boolean dated(UnitMonth month) {
    ConfirmedEvents events = month.facts().confirmed().orElseThrow();
    return events.count() == 0 || events.dates().isPresent();
  }

  private static List<LocalDate> dates(List<UnitMonth> confirmed) {
    return confirmed.stream()
        .flatMap(month -> month.facts().confirmed().flatMap(ConfirmedEvents::dates).stream())
        .flatMap(List::stream)
        .toList();
  }

  private static Optional<UnitWard.Rates> rates(List<UnitMonth> confirmed) {
    List<UnitMonth> charted =
        confirmed.stream().filter(month -> month.counted().catheterDays() > 0).toList();
    List<UChart.Point> points =
        charted.stream()
            .map(
                month ->
                    new UChart.Point(
                        month.facts().confirmed().orElseThrow().count(),
                        month.counted().catheterDays()))
            .toList();
    return UChart.of(points)
        .map(
            chart ->
                new UnitWard.Rates(
                    charted.stream().map(month -> month.month().month()).toList(), points, chart));
  }
}
