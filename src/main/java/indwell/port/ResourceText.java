package indwell.port;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/** A resource as it goes out: its JSON text as it was written, which nobody reads on the way. */
public final class ResourceText {
  private final ResourceKey key;
  private final byte[] utf8;

  /**
   * The text of a resource.
   *
   * @param utf8 not copied, and not to be changed
   */
  public ResourceText(ResourceKey key, byte[] utf8) {
    this.key = key;
    this.utf8 = utf8;
  }

  /** The text of a resource that was read. */
  public static ResourceText of(StoredResource resource) {
    return new ResourceText(resource.key(), resource.json().getBytes(StandardCharsets.UTF_8));
  }

  /** Type and id. */
  public ResourceKey key() {
    return key;
  }

  /** The text in UTF-8; not a copy. */
  public byte[] utf8() {
    return utf8;
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
    return key.reference();
  }
}
