package indwell.usecase.transaction;

import indwell.domain.refusal.Issue;
import indwell.port.StoredResource;
import java.util.List;
import java.util.Optional;

/**
 * What became of one entry.
 *
 * @param index its place in the Bundle, from 0
 * @param status 200, 201 or 204
 * @param resource its newest version; empty for what was deleted
 * @param remarks what the service kept otherwise, or not at all
 */
public record Answer(
    int index, int status, Optional<StoredResource> resource, List<Issue> remarks) {
  public Answer {
    remarks = List.copyOf(remarks);
  }
}
