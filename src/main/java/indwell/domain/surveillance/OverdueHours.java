package indwell.domain.surveillance;

import indwell.domain.rule.FlagCode;
import indwell.domain.rule.FlagHistory;
import indwell.domain.time.Span;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Duration;
import java.util.Collection;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * How long things were overdue: the time in which a flag with a clock was in force, cut to the
 * month and to the patient's time in the ward. Two catheters that are overdue at once count twice.
 *
 * <p>Rule HOURS-1. Own; what makes a flag be in force stands with the flag's own rule.
 *
 * @param times by flag; a flag without any time is left out
 */
public record OverdueHours(Map<FlagCode, Duration> times) {
  /** The flags that a clock raises. */
  public static final Set<FlagCode> CLOCKS =
      Set.of(
          FlagCode.NEED_REVIEW_OVERDUE,
          FlagCode.SECUREMENT_CHANGE_OVERDUE,
          FlagCode.OUTPUT_CHARTING_OVERDUE,
          FlagCode.CARE_CHECK_OVERDUE,
          FlagCode.POSTOPERATIVE_REMOVAL_OVERDUE,
          FlagCode.DWELL_LIMIT_EXCEEDED);

  /** Nothing was overdue. */
  public static final OverdueHours NONE = new OverdueHours(Map.of());

  private static final BigDecimal MILLIS_PER_HOUR =
      BigDecimal.valueOf(Duration.ofHours(1).toMillis());

  public OverdueHours {
    Map<FlagCode, Duration> copy = new EnumMap<>(FlagCode.class);
    copy.putAll(times);
    times = Collections.unmodifiableMap(copy);
  }

  /**
   * Adds up one patient.
   *
   * @param flags of the patient
   * @param where times that are counted, without overlap; each of them ends
   */
  public static OverdueHours of(Collection<FlagHistory> flags, List<Span> where) {
    Map<FlagCode, Duration> times = new EnumMap<>(FlagCode.class);
    for (FlagHistory flag : flags) {
      if (CLOCKS.contains(flag.span().code())) {
        Duration time = within(flag, where);
        if (!time.isZero()) {
          times.merge(flag.span().code(), time, Duration::plus);
        }
      }
    }
    return new OverdueHours(times);
  }

  private static Duration within(FlagHistory flag, List<Span> where) {
    return flag.times().stream()
        .flatMap(time -> where.stream().flatMap(counted -> time.overlap(counted).stream()))
        .map(both -> Duration.between(both.start(), both.end().orElseThrow()))
        .reduce(Duration.ZERO, Duration::plus);
  }

  /** Both sums. */
  public OverdueHours plus(OverdueHours other) {
    Map<FlagCode, Duration> sum = new EnumMap<>(FlagCode.class);
    sum.putAll(times);
    other.times.forEach((code, time) -> sum.merge(code, time, Duration::plus));
    return new OverdueHours(sum);
  }

  /** The hours of a flag, rounded half up. */
  public BigDecimal hours(FlagCode code, int decimals) {
    return BigDecimal.valueOf(times.getOrDefault(code, Duration.ZERO).toMillis())
        .divide(MILLIS_PER_HOUR, decimals, RoundingMode.HALF_UP);
  }
}
