package indwell.domain.surveillance;

import indwell.domain.event.Ward;
import java.time.YearMonth;
import java.util.Comparator;

/** One ward in one calendar month; ordered by ward (code point), then month. */
public record WardMonth(Ward ward, YearMonth month) implements Comparable<WardMonth> {
  private static final Comparator<WardMonth> ORDER =
      Comparator.comparing(WardMonth::ward).thenComparing(WardMonth::month);

  @Override
  public int compareTo(WardMonth other) {
    return ORDER.compare(this, other);
  }

  /** {@code A-1/2026-03}. */
  public String path() {
    return ward.code() + "/" + month;
  }
}
