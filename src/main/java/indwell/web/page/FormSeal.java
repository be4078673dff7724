package indwell.web.page;

import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.time.Duration;
import java.time.Instant;
import java.util.Base64;
import java.util.function.Supplier;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * Seals forms, so that one is taken only from the browser that it was given to, about what it was
 * given for, and for a while. Each form has a number of its own, by which sending it twice is known
 * as once.
 */
public final class FormSeal {
  /** How long a form is good: a shift. */
  public static final Duration GOOD_FOR = Duration.ofHours(12);

  private static final String MAC = "HmacSHA256";

  private final byte[] key;
  private final Supplier<String> fresh;

  /**
   * @param key secret of this service, at least 32 bytes
   * @param fresh gives texts that nobody can guess, of letters, digits and hyphens
   */
  public FormSeal(byte[] key, Supplier<String> fresh) {
    this.key = key.clone();
    this.fresh = fresh;
  }

  /**
   * What a form carries beside its own fields.
   *
   * @param number of the form
   * @param issued seconds since 1970 UTC
   */
  public record Sealed(String number, String issued, String seal) {}

  /** A text that nobody can guess. */
  public String fresh() {
    return fresh.get();
  }

  /**
   * Seals a form.
   *
   * @param browser what the browser is known by
   * @param subject what the form is about
   */
  public Sealed seal(String browser, String subject, Instant now) {
    return seal(fresh.get(), Long.toString(now.getEpochSecond()), browser, subject);
  }

  private Sealed seal(String number, String issued, String browser, String subject) {
    return new Sealed(number, issued, mac(number, issued, browser, subject));
  }

  /** Whether the seal is ours, for that browser and subject, and not too old. */
  public boolean holds(Sealed sent, String browser, String subject, Instant now) {
    String ours = seal(sent.number(), sent.issued(), browser, subject).seal();
    boolean same =
        MessageDigest.isEqual(
            ours.getBytes(StandardCharsets.UTF_8), sent.seal().getBytes(StandardCharsets.UTF_8));
    return same && Instant.ofEpochSecond(Long.parseLong(sent.issued())).plus(GOOD_FOR).isAfter(now);
  }

  /** Each part is preceded by its length, so that no two lists of parts read the same. */
  private String mac(String... parts) {
    try {
      Mac mac = Mac.getInstance(MAC);
      mac.init(new SecretKeySpec(key, MAC));
      for (String part : parts) {
        mac.update((part.length() + ":" + part).getBytes(StandardCharsets.UTF_8));
      }
      return Base64.getUrlEncoder().withoutPadding().encodeToString(mac.doFinal());
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("Every Java platform has " + MAC, e);
    }
  }
}
