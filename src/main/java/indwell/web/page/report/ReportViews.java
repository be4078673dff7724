package indwell.web.page.report;

import indwell.domain.event.EventKey;
import indwell.domain.event.Ward;
import indwell.domain.rule.RuleId;
import indwell.domain.timeline.DayCount;
import indwell.usecase.UnitMonth;
import indwell.usecase.UnitPractice.Practice;
import indwell.usecase.UnitReport.Report;
import indwell.usecase.UnitWard;
import indwell.web.page.FormText;
import indwell.web.page.Moments;
import indwell.web.page.report.ReportView.Chart;
import indwell.web.page.report.ReportView.Group;
import indwell.web.page.report.ReportView.Link;
import indwell.web.page.report.ReportView.Remark;
import indwell.web.page.report.ReportView.WardRow;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** Puts the reports of a month into words. */
final class ReportViews {
  private static final Set<String> TILES =
      Set.of(
          "patientDays",
          "catheterDays",
          "utilisationRatio",
          "rate",
          "sir.ratio",
          "pooledSir.ratio");
  private static final Set<String> COLUMNS =
      Set.of(
          "patientDays", "catheterDays", "utilisationRatio", "confirmedCauti", "rate", "sir.ratio");

  private final Optional<Ward> ward;
  private final YearMonth month;
  private final boolean hasNext;
  private final Report report;
  private final Report charted;
  private final Practice practice;

  /**
   * @param hasNext whether the month after has ended
   * @param report of the month alone
   * @param charted of the months up to it that the charts look back on
   */
  ReportViews(
      Optional<Ward> ward,
      YearMonth month,
      boolean hasNext,
      Report report,
      Report charted,
      Practice practice) {
    this.ward = ward;
    this.month = month;
    this.hasNext = hasNext;
    this.report = report;
    this.charted = charted;
    this.practice = practice;
  }

  /** The month in words. */
  String month() {
    return Moments.month(month);
  }

  /** The month as addresses have it. */
  String value() {
    return month.toString();
  }

  ReportView view() {
    List<Group> groups = groups();
    return new ReportView(
        ward.map(Ward::code).orElse(""),
        month(),
        value(),
        address(ward, month.minusMonths(1)),
        hasNext ? address(ward, month.plusMonths(1)) : "",
        places(),
        path(ward),
        groups.stream()
            .flatMap(group -> group.figures().stream())
            .filter(figure -> TILES.contains(figure.path()))
            .toList(),
        groups,
        PracticeFigures.of(practice),
        ward.isPresent() ? List.of() : report.months().stream().map(this::row).toList(),
        charts(),
        report.remarks().stream().map(ReportViews::remark).toList(),
        links());
  }

  /** Everything as one table. */
  String csv() {
    ReportCsv csv = new ReportCsv();
    csv.add(ward.map(Ward::code).orElse(""), value(), groups());
    csv.add(ward.map(Ward::code).orElse(""), value(), PracticeFigures.of(practice));
    if (ward.isEmpty()) {
      report
          .months()
          .forEach(one -> csv.add(one.month().ward().code(), value(), MonthFigures.of(one)));
    }
    return csv.text();
  }

  private List<Group> groups() {
    if (ward.isPresent()) {
      return report.months().stream().flatMap(one -> MonthFigures.of(one).stream()).toList();
    }
    DayCount all =
        report.months().stream().map(UnitMonth::counted).reduce(DayCount.NONE, DayCount::plus);
    return List.of(
        new Group("Days", MonthFigures.days(all)),
        new Group(
            "Standardised infection ratio, all wards",
            MonthFigures.ratio("pooledSir.", RuleId.SIR_1, Optional.empty(), report.infections())),
        new Group(
            "Standardised utilisation ratio, all wards",
            MonthFigures.ratio(
                "pooledSur.", RuleId.SUR_1, Optional.empty(), report.utilisation())));
  }

  private WardRow row(UnitMonth one) {
    List<Figure> figures =
        MonthFigures.of(one).stream()
            .flatMap(group -> group.figures().stream())
            .filter(figure -> COLUMNS.contains(figure.path()))
            .toList();
    return new WardRow(
        one.month().ward().code(), address(Optional.of(one.month().ward()), month), figures);
  }

  private List<Chart> charts() {
    List<Chart> charts = new ArrayList<>();
    if (ward.isPresent()) {
      for (UnitWard one : charted.wards()) {
        charts.add(Charts.rates(one));
        charts.add(Charts.gaps(one));
      }
    }
    charts.add(Charts.dwell(practice.dwell()));
    return charts;
  }

  private List<Link> places() {
    List<Link> places = new ArrayList<>();
    places.add(new Link("The house", address(Optional.empty(), month), ward.isEmpty()));
    if (ward.isPresent()) {
      places.add(new Link(ward.get().code(), address(ward, month), true));
    } else {
      report.wards().stream()
          .map(UnitWard::ward)
          .forEach(
              one -> places.add(new Link(one.code(), address(Optional.of(one), month), false)));
    }
    return places;
  }

  private List<Link> links() {
    String base =
        ward.map(one -> "/fhir/Location/" + FormText.encode(one.code())).orElse("/fhir")
            + "/$unit-report?start=";
    YearMonth first = charted.question().start();
    return List.of(
        new Link("this page as CSV", path(ward) + ".csv?month=" + month, false),
        new Link("the month", base + month + "&end=" + month, false),
        new Link("the months of the charts", base + first + "&end=" + month, false));
  }

  private static String path(Optional<Ward> ward) {
    return ward.map(one -> "/wards/" + FormText.encode(one.code())).orElse("") + "/report";
  }

  private static String address(Optional<Ward> ward, YearMonth month) {
    return path(ward) + "?month=" + month;
  }

  private static Remark remark(indwell.domain.timeline.Remark remark) {
    return new Remark(
        remark.code().code(),
        remark.sentence(),
        remark.events().stream().map(EventKey::token).collect(Collectors.joining(", ")));
  }
}
