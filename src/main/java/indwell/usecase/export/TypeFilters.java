package indwell.usecase.export;

import indwell.port.ResourceQuery;
import java.time.Instant;
import java.util.Optional;

/** Reads a {@code _typeFilter}: whoever answers searches knows what one means. */
@FunctionalInterface
public interface TypeFilters {

  /**
   * What is searched for it.
   *
   * @param base absolute URL of {@code /fhir}, which references may begin with
   * @param filter a search that was found to be fine when it was ordered
   * @param at the time of the export
   * @return empty when nothing can meet it
   */
  Optional<ResourceQuery> query(String base, String filter, Instant at);
}
