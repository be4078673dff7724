package indwell.web.access;

import indwell.access.Issuer;
import indwell.access.Need;
import indwell.access.Role;
import indwell.access.Tokens;
import java.util.List;
import java.util.Set;

/** Whether anybody is asked who they are. */
public sealed interface AccessMode {
  /** What every page for people needs at least. */
  List<Need> PEOPLE = List.of(Need.of(Set.of(Role.values())));

  /** Nobody is: only this machine is served. */
  record Development() implements AccessMode {}

  /** Everybody is: what is not allowed is denied. */
  record Guarded(Tokens tokens, Issuer issuer) implements AccessMode {}
}
