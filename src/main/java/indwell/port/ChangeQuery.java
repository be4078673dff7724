package indwell.port;

import java.time.Instant;
import java.util.Optional;

/**
 * A question about versions of resources, all of them and not only the newest. They come newest
 * first: by the time of writing, then by reference, then by version, each descending.
 *
 * @param type only this type; empty means any
 * @param id only this id of that type; empty means any
 * @param since only versions written at or after it
 * @param after only what comes after this version in that order, for the next page
 * @param limit at most so many
 */
public record ChangeQuery(
    Optional<String> type,
    Optional<String> id,
    Optional<Instant> since,
    Optional<Mark> after,
    int limit) {

  /**
   * A version and its place in the order.
   *
   * @param written milliseconds since 1970 UTC
   * @param reference {@code Device/abc}
   */
  public record Mark(long written, String reference, int version) {
    /** The mark of a version. */
    public static Mark of(StoredResource resource) {
      return new Mark(
          resource.lastUpdated().toEpochMilli(), resource.key().reference(), resource.version());
    }
  }

  /** The same with another number. */
  public ChangeQuery atMost(int most) {
    return new ChangeQuery(type, id, since, after, most);
  }
}
