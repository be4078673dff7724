package indwell.port;

import indwell.domain.surveillance.WardMonth;
import java.time.Instant;
import java.time.YearMonth;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.SortedMap;
import java.util.function.Function;

/**
 * The durable record of what people supply for surveillance, one series of versions for each ward
 * and month.
 *
 * <p>Implementations are safe for use by many threads. Every method may throw {@link
 * StoreUnavailable} when the store is away.
 */
public interface SurveillanceFacts {

  /**
   * Takes the facts of some months as one transaction: what changed is durable when this returns,
   * or nothing of it is there when this throws. What has the same content as its newest version
   * makes no new one. When one of them is {@link Change#STALE} nothing is written.
   *
   * @param stated each ward and month once at most
   * @param now when they were received
   * @param rows tells the audit trail of it, in the same transaction; asked when anything is
   *     written, and again when the transaction is run again
   * @return what became of each, in the same order
   */
  List<Recorded> record(
      List<Stated> stated, Instant now, Function<List<Recorded>, List<AuditEntry>> rows);

  /** The newest version of a ward and month. */
  Optional<StoredFacts> newest(WardMonth month);

  /** All versions of a ward and month, newest first. */
  List<StoredFacts> versions(WardMonth month);

  /** The newest versions of all wards in these months, both included. */
  SortedMap<WardMonth, StoredFacts> newest(YearMonth start, YearMonth endInclusive);

  /**
   * Facts to be taken.
   *
   * @param canonical as {@link StoredFacts#canonical()}
   * @param ifVersion taken only if this is the newest version
   */
  record Stated(WardMonth month, String canonical, OptionalInt ifVersion) {}

  /**
   * What became of stated facts.
   *
   * @param newest the newest version afterwards; empty only for {@link Change#STALE}
   */
  record Recorded(Change change, Optional<StoredFacts> newest) {}

  /**
   * Whether anything was written.
   *
   * @param all an answer of {@link #record}
   */
  static boolean wrote(List<Recorded> all) {
    return all.stream().noneMatch(one -> one.change() == Change.STALE)
        && all.stream().anyMatch(one -> one.change() != Change.UNCHANGED);
  }

  /** What a statement did. */
  enum Change {
    /** The ward and month had no facts. */
    CREATED,
    /** A further version was added. */
    CHANGED,
    /** The content was there already. */
    UNCHANGED,
    /** Another version than the one named is the newest; nothing was written. */
    STALE
  }
}
