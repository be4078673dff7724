package indwell.usecase.publish;

import indwell.port.ResourceKey;
import java.util.Collection;
import java.util.HashSet;
import java.util.Set;

/** Resources that are being sent: none of them twice at once, whatever lane they are in. */
final class Claims {
  private final Set<ResourceKey> taken = new HashSet<>();

  /** All of them, or none. */
  synchronized boolean claim(Collection<ResourceKey> keys) {
    boolean free = keys.stream().noneMatch(taken::contains);
    if (free) {
      taken.addAll(keys);
    }
    return free;
  }

  synchronized void release(Collection<ResourceKey> keys) {
    keys.forEach(taken::remove);
  }
}
