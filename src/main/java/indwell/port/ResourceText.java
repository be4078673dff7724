package indwell.port;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/**
 * A resource as it goes out: its JSON text as it was written, which nobody reads on the way.
 *
 * @param utf8 not copied, and not to be changed
 */
public record ResourceText(ResourceKey key, byte[] utf8) {
  /** The text of a resource. */
  public static ResourceText of(StoredResource resource) {
    return new ResourceText(resource.key(), resource.json().getBytes(StandardCharsets.UTF_8));
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof ResourceText that
        && key.equals(that.key)
        && Arrays.equals(utf8, that.utf8);
  }

  @Override
  public int hashCode() {
    return 31 * key.hashCode() + Arrays.hashCode(utf8);
  }

  @Override
  public String toString() {
    return key.reference() + " " + new String(utf8, StandardCharsets.UTF_8);
  }
}
