package indwell.web.page.report;

import indwell.domain.rule.RuleId;
import indwell.web.page.Why;
import indwell.web.page.Why.Piece;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Collects figures under one heading, each with the rule behind it. */
final class Figures {
  private final String prefix;
  private final RuleId rule;
  private final String source;
  private final String finding;
  private final List<Figure> figures = new ArrayList<>();

  /**
   * @param prefix of the paths
   * @param finding what went in, with values and units
   */
  Figures(String prefix, RuleId rule, String finding) {
    this(prefix, rule, rule.source(), finding);
  }

  private Figures(String prefix, RuleId rule, String source, String finding) {
    this.prefix = prefix;
    this.rule = rule;
    this.source = source;
    this.finding = finding;
  }

  /** The figures in their order. */
  List<Figure> all() {
    return figures;
  }

  Figures count(String path, String what, long count, String unit) {
    String text = Long.toString(count);
    return add(path, what, text, text, unit, "");
  }

  Figures count(String path, String what, Optional<Integer> count, String unit, String absent) {
    return count.isPresent()
        ? count(path, what, count.get(), unit)
        : add(path, what, "", "", unit, absent);
  }

  /**
   * A number.
   *
   * @param decimals that people read
   */
  Figures number(
      String path,
      String what,
      Optional<BigDecimal> number,
      int decimals,
      String unit,
      String absent) {
    return number
        .map(
            found ->
                add(
                    path,
                    what,
                    found.toPlainString(),
                    found.setScale(decimals, RoundingMode.HALF_UP).toPlainString(),
                    unit,
                    ""))
        .orElseGet(() -> add(path, what, "", "", unit, absent));
  }

  Figures text(String path, String what, String text) {
    return add(path, what, text, text, "", "");
  }

  Figures absent(String path, String what, String reason) {
    return add(path, what, "", "", "", reason);
  }

  private Figures add(
      String path, String what, String value, String shown, String unit, String absent) {
    Why why = new Why(List.of(new Piece(finding, List.of())), rule.id(), source, List.of());
    figures.add(new Figure(prefix + path, what, value, shown, unit, absent, why));
    return this;
  }

  /** A share in per cent with one decimal; empty of nothing. */
  static Optional<BigDecimal> percent(long part, long whole) {
    return whole == 0
        ? Optional.empty()
        : Optional.of(
            BigDecimal.valueOf(part * 100)
                .divide(BigDecimal.valueOf(whole), 1, RoundingMode.HALF_UP));
  }
}
