package indwell.domain.candidate;

import indwell.domain.candidate.Finding.Reading;
import indwell.domain.candidate.Finding.Sign;
import indwell.domain.candidate.Symptom.Bar;
import indwell.domain.event.BedsideEvent;
import indwell.domain.rule.RuleId;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Placement;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Which findings of the window can be used: a symptom with another recognised cause cannot, save
 * fever and hypothermia; urgency, frequency and dysuria cannot on a date on which a catheter was in
 * place.
 *
 * <p>Rule SYMPTOM-1. Source: NHSN manual chapter 7, Table 1 and its notes (rules U1 to U3, U13,
 * U14; restated, Taiwan CDC).
 */
final class UsableFindings {
  private final List<Finding> findings;
  private final DateRange window;
  private final EligibilityCount catheters;

  UsableFindings(List<Finding> findings, DateRange window, EligibilityCount catheters) {
    this.findings = findings.stream().sorted(Comparator.comparing(Finding::on)).toList();
    this.window = window;
    this.catheters = catheters;
  }

  /** The first date within the window on which the symptom can be used; empty for none. */
  Ruled<Optional<LocalDate>> first(Symptom symptom) {
    RuleId rule = symptom.isTemperature() ? RuleId.FEVER_1 : RuleId.SYMPTOM_1;
    List<Finding> shown = findings.stream().filter(one -> one.shows(symptom)).toList();
    List<Finding> within = shown.stream().filter(one -> window.holds(one.on())).toList();
    Optional<Finding> usable = within.stream().filter(this::isUsable).findFirst();
    if (usable.isPresent()) {
      return Ruled.of(
          usable.map(Finding::on), rule, words(symptom, usable.get()) + ", within the window.");
    }
    if (within.isEmpty()) {
      return Ruled.of(Optional.empty(), rule, absent(symptom, shown));
    }
    Finding first = within.get(0);
    String reason =
        symptom.bar() == Bar.CATHETER
            ? " cannot be used: a catheter was in place on that date."
            : " is set aside: another cause is recognised.";
    List<BedsideEvent> facts = symptom.bar() == Bar.CATHETER ? inPlaceOn(first.on()) : List.of();
    return Ruled.of(Optional.empty(), rule, words(symptom, first) + reason, facts);
  }

  private boolean isUsable(Finding finding) {
    if (!(finding instanceof Sign sign)) {
      return true;
    }
    return switch (sign.symptom().bar()) {
      case NONE -> true;
      case OTHER_CAUSE -> !sign.otherCause();
      case CATHETER -> catheters.presentOn(sign.on()).isEmpty();
    };
  }

  private List<BedsideEvent> inPlaceOn(LocalDate date) {
    return catheters.presentOn(date).stream().map(Placement::placedBy).distinct().toList();
  }

  private String absent(Symptom symptom, List<Finding> outside) {
    if (!outside.isEmpty()) {
      return words(symptom, outside.get(0)) + " lies outside the window of " + window.words() + ".";
    }
    boolean read =
        findings.stream().filter(Reading.class::isInstance).anyMatch(one -> window.holds(one.on()));
    return symptom.isTemperature() && read
        ? "No temperature within the window shows " + symptom.words() + "."
        : "No " + symptom.words() + " is told of.";
  }

  private static String words(Symptom symptom, Finding finding) {
    String name =
        symptom.words().substring(0, 1).toUpperCase(Locale.ROOT) + symptom.words().substring(1);
    String reading = finding instanceof Reading one ? " (" + one.temperature().words() + ")" : "";
    return name + reading + " on " + finding.on();
  }
}
