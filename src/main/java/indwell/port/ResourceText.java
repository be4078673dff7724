package indwell.port;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;

/**
 * A resource as it goes out: its JSON text as it was written, which nobody reads on the way.
 *
 * @param utf8 over an array that holds nothing else, and that is not to be changed
 */
public record ResourceText(ResourceKey key, ByteBuffer utf8) {
  /** A text as it is kept; not copied. */
  public ResourceText(ResourceKey key, byte[] utf8) {
    this(key, ByteBuffer.wrap(utf8));
  }

  /** The text of a resource that was read. */
  public static ResourceText of(StoredResource resource) {
    return new ResourceText(resource.key(), resource.json().getBytes(StandardCharsets.UTF_8));
  }
}
