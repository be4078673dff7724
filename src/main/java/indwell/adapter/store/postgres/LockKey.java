package indwell.adapter.store.postgres;

import indwell.domain.event.EventKey;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;

/**
 * Numbers of advisory locks. Those of events are never negative and those of patients always are,
 * so an event can never wait for a patient; names that share a number only wait for each other.
 */
final class LockKey {
  /** Held by every transaction that may write; an event with this number would wait for nobody. */
  static final long OF_WRITERS = 0x696e_6477_656c_6c00L;

  private LockKey() {}

  static long ofEvent(EventKey key) {
    return hash(key.token()) & Long.MAX_VALUE;
  }

  static long ofPatient(String id) {
    return hash(id) | Long.MIN_VALUE;
  }

  private static long hash(String name) {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      return ByteBuffer.wrap(digest.digest(name.getBytes(StandardCharsets.UTF_8))).getLong();
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("Every Java platform has SHA-256.", e);
    }
  }
}
