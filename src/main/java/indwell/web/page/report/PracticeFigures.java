package indwell.web.page.report;

import indwell.domain.event.InsertionStep;
import indwell.domain.rule.FlagCode;
import indwell.domain.rule.RuleId;
import indwell.domain.surveillance.OverdueHours;
import indwell.domain.surveillance.ReviewCompliance;
import indwell.domain.surveillance.StepCompliance;
import indwell.fhir.term.BedsideTerms;
import indwell.usecase.UnitPractice.Practice;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** The figures of a month's practice. */
final class PracticeFigures {
  private static final String PERCENT = "%";

  private PracticeFigures() {}

  static List<ReportView.Group> of(Practice practice) {
    return List.of(
        new ReportView.Group("Insertions", insertions(practice.steps())),
        new ReportView.Group("Reviews of need", reviews(practice.reviews())),
        new ReportView.Group("Days in place", dwell(practice)),
        new ReportView.Group("Hours overdue", overdue(practice.overdue())));
  }

  private static List<Figure> insertions(StepCompliance steps) {
    String finding =
        steps.complete()
            + " of "
            + steps.checked()
            + " insertions with charted steps had none charted as not done; "
            + steps.insertions()
            + " insertions in all.";
    List<Figure> figures =
        new Figures("practice.insertions.", RuleId.STEP_1, finding)
            .count("all", "Insertions and exchanges", steps.insertions(), "")
            .count("checked", "Of them with charted steps", steps.checked(), "")
            .number(
                "complete",
                "Of these with no step charted as not done",
                Figures.percent(steps.complete(), steps.checked()),
                1,
                PERCENT,
                "No insertion had charted steps.")
            .all();
    for (InsertionStep step : InsertionStep.values()) {
      StepCompliance.Counts counts = counts(steps, step);
      figures.addAll(
          new Figures(
                  "practice.step.",
                  RuleId.STEP_1,
                  counts.done()
                      + " done, "
                      + counts.notDone()
                      + " not done, "
                      + counts.notApplicable()
                      + " not applicable, "
                      + counts.notStated()
                      + " not stated.")
              .number(
                  step.code(),
                  BedsideTerms.of(step).display(),
                  Figures.percent(counts.done(), counts.asked()),
                  1,
                  PERCENT,
                  "Not charted.")
              .all());
    }
    return figures;
  }

  private static StepCompliance.Counts counts(StepCompliance steps, InsertionStep step) {
    return steps.steps().getOrDefault(step, new StepCompliance.Counts(0, 0, 0, 0));
  }

  private static List<Figure> reviews(ReviewCompliance reviews) {
    return new Figures(
            "practice.reviews.",
            RuleId.REVIEW_1,
            reviews.met() + " of " + reviews.due() + " catheters and dates with a review due.")
        .count("due", "Reviews due", reviews.due(), "")
        .count("met", "Reviewed on the date", reviews.met(), "")
        .number(
            "share",
            "Share",
            Figures.percent(reviews.met(), reviews.due()),
            1,
            PERCENT,
            "No review was due.")
        .all();
  }

  private static List<Figure> dwell(Practice practice) {
    int catheters = practice.dwell().days().size();
    return new Figures(
            "practice.dwell.",
            RuleId.DWELL_1,
            catheters + " urethral catheters with a bag came out by removal or exchange.")
        .count("catheters", "Catheters that came out", catheters, "")
        .number("median", "Median", practice.dwell().median(), 1, "days", "None came out.")
        .all();
  }

  private static List<Figure> overdue(OverdueHours overdue) {
    List<Figure> figures = new ArrayList<>();
    Stream.of(FlagCode.values())
        .filter(OverdueHours.CLOCKS::contains)
        .forEach(
            code ->
                figures.addAll(
                    new Figures(
                            "practice.overdue.",
                            RuleId.HOURS_1,
                            "Time in which \"" + code.display() + "\" was in force.")
                        .number(
                            code.code(),
                            code.display(),
                            Optional.of(overdue.hours(code, 1)),
                            1,
                            "h",
                            "")
                        .all()));
    return figures;
  }
}
