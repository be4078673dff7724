package indwell.access;

import indwell.access.Logins.Attempt;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Who is logged in, and who is about to, by names that nobody can guess. They are kept in memory:
 * after a restart everybody logs in again.
 */
public final class Sessions {
  /** So long a login may take. */
  public static final Duration ATTEMPT = Duration.ofMinutes(10);

  private static final int MOST = 10_000;

  private final Supplier<String> fresh;
  private final Duration keep;
  private final Map<String, Kept<Caller.Known>> sessions = bounded();
  private final Map<String, Kept<Begun>> attempts = bounded();

  /**
   * @param fresh gives texts that nobody can guess, of letters, digits, hyphens and underscores, at
   *     least 43 of them
   * @param keep how long somebody stays logged in
   */
  public Sessions(Supplier<String> fresh, Duration keep) {
    this.fresh = fresh;
    this.keep = keep;
  }

  private record Kept<T>(T what, Instant until) {}

  /**
   * A login under way.
   *
   * @param to the address that the person was at
   */
  public record Begun(Attempt attempt, String to) {}

  /** Somebody new by a name; the oldest makes room. */
  private static <T> Map<String, Kept<T>> bounded() {
    return new LinkedHashMap<>() {
      private static final long serialVersionUID = 1L;

      @Override
      protected boolean removeEldestEntry(Map.Entry<String, Kept<T>> eldest) {
        return size() > MOST;
      }
    };
  }

  /** How long somebody stays logged in. */
  public Duration keep() {
    return keep;
  }

  /** Begins a login. */
  public Attempt attempt() {
    return new Attempt(fresh.get(), fresh.get(), fresh.get());
  }

  /** Keeps a login that has begun, and names it. */
  public synchronized String begin(Begun begun, Instant now) {
    String name = fresh.get();
    attempts.put(name, new Kept<>(begun, now.plus(ATTEMPT)));
    return name;
  }

  /** The login of that name, once. */
  public synchronized Optional<Begun> take(String name, Instant now) {
    return Optional.ofNullable(attempts.remove(name))
        .filter(kept -> now.isBefore(kept.until()))
        .map(Kept::what);
  }

  /** Keeps who logged in, under a name that was never used before. */
  public synchronized String open(Caller.Known caller, Instant now) {
    String name = fresh.get();
    sessions.put(name, new Kept<>(caller, now.plus(keep)));
    return name;
  }

  /** Who is logged in under that name. */
  public synchronized Optional<Caller.Known> find(String name, Instant now) {
    return Optional.ofNullable(sessions.get(name))
        .filter(kept -> now.isBefore(kept.until()))
        .map(Kept::what);
  }

  /** Forgets who is logged in under that name. */
  public synchronized void close(String name) {
    sessions.remove(name);
  }
}
