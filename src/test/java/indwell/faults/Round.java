package indwell.faults;

import indwell.port.ClinicalStore;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;

/** What happens to one store under one seed, and what was found there afterwards. */
final class Round {
  private static final int KILLED = 137;

  private final String kind;
  private final String where;
  private final long seed;
  private final Set<Aftermath.Kept> acknowledged = ConcurrentHashMap.newKeySet();

  /**
   * @param kind {@code sqlite} or {@code postgresql}
   * @param where a new folder or the URL of a new database
   */
  Round(String kind, String where, long seed) {
    this.kind = kind;
    this.where = where;
    this.seed = seed;
  }

  /** Killed so long after its first answer. */
  Aftermath killedAfter(long milliseconds) throws IOException, InterruptedException {
    try (Life life = begin(Map.of())) {
      life.awaitFirst();
      TimeUnit.MILLISECONDS.sleep(milliseconds);
      life.kill();
    }
    return aftermath();
  }

  /** Ending itself when it reaches the point for the nth time. */
  Aftermath endingAt(Point point, int times) throws IOException, InterruptedException {
    return endingAt(point, times, Map.of());
  }

  /** The same, with more options of the {@link Victim}. */
  Aftermath endingAt(Point point, int times, Map<String, String> more)
      throws IOException, InterruptedException {
    Map<String, String> options = new TreeMap<>(more);
    options.put("end", point.name());
    options.put("times", Integer.toString(times));
    try (Life life = begin(options)) {
      int code = life.awaitEnd();
      if (code != KILLED) {
        throw new IllegalStateException("It did not end at " + point + " but with " + code);
      }
    }
    return aftermath();
  }

  /** Of two processes with the same callers one is killed, and the other some time later. */
  Aftermath oneAfterTheOther(long first, long second) throws IOException, InterruptedException {
    try (Life one = begin(Map.of());
        Life other = begin(Map.of())) {
      one.awaitFirst();
      other.awaitFirst();
      TimeUnit.MILLISECONDS.sleep(first);
      one.kill();
      TimeUnit.MILLISECONDS.sleep(second);
      other.kill();
    }
    return aftermath();
  }

  private Life begin(Map<String, String> more) throws IOException {
    Map<String, String> options = new TreeMap<>(more);
    options.put("kind", kind);
    options.put("where", where);
    options.put("seed", Long.toString(seed));
    return Life.begin(options, acknowledged);
  }

  /** Notes an event that was answered as kept by this process itself. */
  void kept(Aftermath.Kept one) {
    acknowledged.add(one);
  }

  int acknowledged() {
    return acknowledged.size();
  }

  Aftermath aftermath() {
    try (ClinicalStore store = Victim.open(kind, where)) {
      return aftermath(store);
    }
  }

  Aftermath aftermath(ClinicalStore store) {
    return Aftermath.of(store, acknowledged, sent());
  }

  /** The next two stories may have been begun without an answer. */
  private List<String> sent() {
    int stories =
        acknowledged.stream()
            .mapToInt(one -> Integer.parseInt(one.key().source().replaceFirst(".*-", "")) + 1)
            .max()
            .orElse(0);
    List<String> sent = new ArrayList<>();
    for (int number = 0; number < stories + 2; number++) {
      sent.addAll(Story.of(seed, number));
    }
    return sent;
  }
}
