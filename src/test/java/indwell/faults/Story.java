package indwell.faults;

import indwell.usecase.RandomBodies;
import java.time.Duration;
import java.time.Instant;
import java.util.List;

/** What a caller sends: random histories, contradictions and corrections among them. */
final class Story {
  /** After all that happens in it. */
  static final Instant NOW = RandomBodies.START.plus(Duration.ofDays(14));

  private Story() {}

  /** Event bodies about two patients of their own; the same arguments give the same bodies. */
  static List<String> of(long seed, int number) {
    String own = seed + "-" + number;
    return new RandomBodies(31 * seed + number)
        .bodies().stream()
            .map(
                body ->
                    body.replace("\"source\":\"random\"", "\"source\":\"" + own + "\"")
                        .replaceAll("\"value\":\"([PS]\\d)\"", "\"value\":\"$1-" + own + "\""))
            .toList();
  }
}
