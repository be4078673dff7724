package indwell.web.page.report;

import indwell.access.Role;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.surveillance.UChart;
import indwell.usecase.Asked;
import indwell.usecase.Facility;
import indwell.usecase.UnitPractice;
import indwell.usecase.UnitReport;
import indwell.usecase.UnitReport.Question;
import indwell.usecase.UnitReport.Report;
import indwell.web.HttpAnswer;
import indwell.web.page.Frame;
import indwell.web.page.Moments;
import indwell.web.page.PageAnswers;
import indwell.web.page.PageRefusal;
import indwell.web.page.PageRequest;
import indwell.web.page.PageServer;
import indwell.web.page.Shortened;
import indwell.web.page.Templates;
import io.vertx.core.buffer.Buffer;
import io.vertx.ext.web.Router;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.time.DateTimeException;
import java.time.YearMonth;
import java.util.Optional;
import java.util.Set;

/** The month of a ward, or of the house, for a meeting. */
@ApplicationScoped
public class ReportPage {
  private static final Set<Role> READERS = Set.of(Role.PREVENTIONIST);
  private static final String MONTH = "month";

  /** The charts look back as far as makes a good one. */
  private static final int CHARTED_MONTHS = UChart.ENOUGH_POINTS;

  private final PageServer server;
  private final UnitReport reports;
  private final UnitPractice practice;
  private final Moments moments;
  private final Templates templates = new Templates();

  /** The pages over these reports. */
  @Inject
  public ReportPage(
      PageServer server, UnitReport reports, UnitPractice practice, Facility facility) {
    this.server = server;
    this.reports = reports;
    this.practice = practice;
    this.moments = new Moments(facility.calendar());
  }

  /** Puts the pages on their paths. */
  public void register(@Observes Router router) {
    for (String place : Set.of("", "/wards/:ward")) {
      router.route(place + "/report").handler(server.reading(READERS, this::page));
      router.route(place + "/report.csv").handler(server.reading(READERS, this::csv));
    }
  }

  private HttpAnswer page(PageRequest request) {
    ReportViews views = views(request);
    String title = request.ward().map(Ward::code).orElse("The house") + ", " + views.month();
    Frame frame = Frame.of(title, "report", moments, request);
    return PageAnswers.html(200, templates.render("report/month", frame, views.view()));
  }

  private HttpAnswer csv(PageRequest request) {
    ReportViews views = views(request);
    String name = request.ward().map(Ward::code).orElse("house");
    return PageAnswers.of(200, "text/csv; charset=utf-8", Buffer.buffer(views.csv()))
        .with(
            "Content-Disposition",
            "attachment; filename=\"report-" + name + "-" + views.value() + ".csv\"");
  }

  private ReportViews views(PageRequest request) {
    request.allowOnly(Set.of(MONTH));
    YearMonth current = YearMonth.from(moments.calendar().dateOf(request.now()));
    YearMonth month =
        request.value(MONTH).map(ReportPage::month).orElseGet(() -> current.minusMonths(1));
    Report one = report(request, month, month);
    Report charted = report(request, month.minusMonths(CHARTED_MONTHS - 1L), month);
    return new ReportViews(
        request.ward(),
        month,
        month.plusMonths(1).isBefore(current),
        one,
        charted,
        practice.of(request.ward(), month, request.now()));
  }

  private Report report(PageRequest request, YearMonth start, YearMonth end) {
    Asked<Report> asked = reports.of(new Question(request.ward(), start, end), request.now());
    return asked.fold(
        report -> report,
        issue -> {
          throw PageRefusal.of(issue);
        });
  }

  private static YearMonth month(String text) {
    Optional<YearMonth> month = parsed(text);
    return month
        .filter(one -> one.getYear() >= 2000 && one.getYear() < 10_000)
        .orElseThrow(
            () ->
                PageRefusal.of(
                    IssueCode.UNREADABLE_MONTH,
                    "Month \""
                        + Shortened.text(text)
                        + "\" is unreadable; expected a month from 2000 on such as 2026-03."));
  }

  private static Optional<YearMonth> parsed(String text) {
    try {
      return Optional.of(YearMonth.parse(text));
    } catch (DateTimeException unreadable) {
      return Optional.empty();
    }
  }
}
