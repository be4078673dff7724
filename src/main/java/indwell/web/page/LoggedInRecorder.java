package indwell.web.page;

import indwell.access.Caller;
import indwell.domain.event.BusinessId;
import java.util.Optional;

/** Whoever is logged in records: the issuer is the naming system, its {@code sub} the value. */
public final class LoggedInRecorder implements Recorders {
  /** Longer ones cannot be a recorder's value. */
  private static final int MOST = 128;

  @Override
  public Optional<BusinessId> of(PageRequest request) {
    return request.caller() instanceof Caller.Known known
        ? known
            .user()
            .filter(user -> user.length() <= MOST)
            .map(user -> new BusinessId(known.issuer(), user))
        : Optional.empty();
  }

  @Override
  public boolean verified() {
    return true;
  }
}
