package indwell.web.page;

import indwell.domain.event.BusinessId;
import java.util.Optional;

/**
 * Who is at the page, asked once a request. A login takes the place of {@link TypedRecorder} by
 * answering from what it has verified.
 */
public interface Recorders {
  /** The person that what the request records is recorded by; empty when nobody is known. */
  Optional<BusinessId> of(PageRequest request);

  /** Whether anybody vouches for the person; pages say so when nobody does. */
  boolean verified();
}
