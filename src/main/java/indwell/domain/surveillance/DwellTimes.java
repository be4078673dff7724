package indwell.domain.surveillance;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * How many calendar days catheters were in place that came out by a removal or an exchange: the
 * dates from that of the insertion through that of the end, both included. A catheter whose removal
 * is not on record has no known end and is left out.
 *
 * <p>Rule DWELL-1. Own; that days are calendar dates with the insertion date as day 1: NHSN chapter
 * 7, Definitions (rule E1, restated).
 *
 * @param days ascending, one for each catheter, each 1 or more
 */
public record DwellTimes(List<Integer> days) {
  /** Ends of the classes, in days; the last class has none. */
  private static final List<Integer> ENDS = List.of(1, 2, 3, 4, 5, 6, 7, 14, 21, 28);

  public DwellTimes {
    days = days.stream().sorted().toList();
  }

  /**
   * A class of the distribution.
   *
   * @param first days, inclusive
   * @param last days, inclusive; empty for the open class
   * @param catheters how many
   */
  public record Bin(int first, Optional<Integer> last, int catheters) {
    /** {@code 4} or {@code 8-14} or {@code 29+}. */
    public String label() {
      return last.map(end -> end == first ? "" + end : first + "-" + end).orElse(first + "+");
    }
  }

  /** The distribution: each of the first seven days, then weeks, then what is longer. */
  public List<Bin> distribution() {
    List<Bin> bins = new ArrayList<>();
    int first = 1;
    for (int end : ENDS) {
      bins.add(new Bin(first, Optional.of(end), within(first, end)));
      first = end + 1;
    }
    bins.add(new Bin(first, Optional.empty(), within(first, Integer.MAX_VALUE)));
    return bins;
  }

  private int within(int first, int last) {
    return (int) days.stream().filter(one -> one >= first && one <= last).count();
  }

  /** The median in days, with one decimal; empty without any catheter. */
  public Optional<BigDecimal> median() {
    if (days.isEmpty()) {
      return Optional.empty();
    }
    int upper = days.get(days.size() / 2);
    int lower = days.get((days.size() - 1) / 2);
    return Optional.of(
        BigDecimal.valueOf(upper + (long) lower)
            .divide(BigDecimal.valueOf(2), 1, RoundingMode.HALF_UP));
  }
}
