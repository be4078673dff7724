package indwell.domain.rule;

import indwell.domain.timeline.Timeline;
import java.time.Instant;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

/** The flag rules, in the order in which a ward reads them. */
public final class AllRules {
  /** Every rule that raises a flag, one for each code. */
  public static final List<FlagRule> FLAGS =
      List.of(
          new NeedReviewRule(),
          new SecurementRule(),
          new OutputChartingRule(),
          new CareCheckRule(),
          new PostoperativeRule(),
          new DwellRule(),
          new BalloonRule(),
          new LowOutputRule(),
          new IndicationRule(),
          new StepsRule(),
          new RemovalUnrecordedRule(),
          new OverlapRule());

  private AllRules() {}

  /** Every flag that a patient's catheters raise, ever: catheter by catheter, rule by rule. */
  public static List<FlagSpan> spans(Bedside bedside) {
    List<List<List<FlagSpan>>> byRule = FLAGS.stream().map(rule -> rule.spans(bedside)).toList();
    return IntStream.range(0, bedside.timeline().placements().size())
        .boxed()
        .flatMap(catheter -> byRule.stream().flatMap(ofRule -> ofRule.get(catheter).stream()))
        .toList();
  }

  /**
   * The flags in force at an instant: at most one for each catheter and code, the one that dates
   * from the earliest. {@link Timeline#asOf} leaves out what happened later.
   */
  public static List<FlagSpan> inForce(Bedside bedside, Instant instant) {
    Map<List<Object>, FlagSpan> byCatheterAndCode = new LinkedHashMap<>();
    spans(bedside).stream()
        .filter(span -> span.inForceAt(instant))
        .sorted(Comparator.comparing(FlagSpan::since))
        .forEach(
            span ->
                byCatheterAndCode.putIfAbsent(
                    List.of(span.catheter().catheter(), span.code()), span));
    return byCatheterAndCode.values().stream()
        .sorted(
            Comparator.comparing((FlagSpan span) -> span.catheter().start())
                .thenComparing(span -> span.catheter().catheter())
                .thenComparing(FlagSpan::code))
        .toList();
  }
}
