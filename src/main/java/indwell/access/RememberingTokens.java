package indwell.access;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.time.Instant;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;

/**
 * Remembers for a minute who has a token, so that a sender of many events is looked at once. Tokens
 * are kept as their hash; those that were not taken are not remembered.
 */
public final class RememberingTokens implements Tokens {
  /** A key that the issuer takes back goes on being believed for so long at most. */
  static final Duration MOST = Duration.ofMinutes(1);

  private static final int MOST_TOKENS = 10_000;

  private final BiFunction<String, Instant, Holder> looking;
  private final Map<String, Holder> known =
      new LinkedHashMap<>(64, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<String, Holder> eldest) {
          return size() > MOST_TOKENS;
        }
      };

  /**
   * @param looking finds out who has a token, at a time
   */
  public RememberingTokens(BiFunction<String, Instant, Holder> looking) {
    this.looking = looking;
  }

  @Override
  public Optional<Caller> remembered(String token, Instant now) {
    String hash = hash(token);
    synchronized (known) {
      return Optional.ofNullable(known.get(hash))
          .filter(holder -> now.isBefore(holder.until()))
          .map(Holder::caller);
    }
  }

  @Override
  public Caller of(String token, Instant now) {
    Holder holder = looking.apply(token, now);
    if (holder.caller() instanceof Caller.Known) {
      Instant most = now.plus(MOST);
      Instant until = holder.until().isBefore(most) ? holder.until() : most;
      synchronized (known) {
        known.put(hash(token), new Holder(holder.caller(), until));
      }
    }
    return holder.caller();
  }

  private static String hash(String token) {
    try {
      byte[] digest =
          MessageDigest.getInstance("SHA-256").digest(token.getBytes(StandardCharsets.UTF_8));
      return HexFormat.of().formatHex(digest);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("Every Java platform has SHA-256", e);
    }
  }
}
