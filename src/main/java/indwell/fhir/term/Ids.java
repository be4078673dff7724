package indwell.fhir.term;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;

/**
 * Derives logical ids from business identifiers: the same parts give the same id on every machine,
 * so that a store that was lost and filled again has the same ids.
 */
public final class Ids {
  private static final String ALPHABET = "abcdefghijklmnopqrstuvwxyz234567";
  private static final int LENGTH = 26;

  private Ids() {}

  /**
   * The id of a resource of that type with those business parts: the first 26 characters of the
   * lower-case base32 of SHA-256 over type and parts, each preceded by its length in bytes (four
   * bytes, big-endian) and in UTF-8. 26 characters hold 130 bits, too many to meet by chance.
   */
  public static String derive(String type, String... parts) {
    MessageDigest digest = sha256();
    take(digest, type);
    for (String part : parts) {
      take(digest, part);
    }
    return base32(digest.digest());
  }

  private static void take(MessageDigest digest, String part) {
    byte[] bytes = part.getBytes(StandardCharsets.UTF_8);
    digest.update(ByteBuffer.allocate(Integer.BYTES).putInt(bytes.length).array());
    digest.update(bytes);
  }

  /** Five bits a character, the highest of the first byte first. */
  private static String base32(byte[] bytes) {
    byte[] text = new byte[LENGTH];
    int buffer = 0;
    int bits = 0;
    int next = 0;
    for (int i = 0; i < LENGTH; i++) {
      if (bits < 5) {
        buffer = (buffer << 8) | (bytes[next++] & 0xff);
        bits += 8;
      }
      bits -= 5;
      text[i] = (byte) ALPHABET.charAt((buffer >> bits) & 31);
    }
    return new String(text, StandardCharsets.ISO_8859_1);
  }

  private static MessageDigest sha256() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("Every Java platform has SHA-256", e);
    }
  }
}
