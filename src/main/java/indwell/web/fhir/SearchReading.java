package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.domain.refusal.IssueCode;
import indwell.port.ResourceQuery;
import indwell.port.SearchCondition;
import indwell.port.SearchOrder;
import indwell.usecase.SearchResources;
import indwell.usecase.SearchResources.Found;
import indwell.usecase.SearchResources.Total;
import indwell.web.fhir.QueryText.Parameter;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** Reads searches; looks up what stands behind a reference where a parameter asks for it. */
final class SearchReading {
  /** So many resources may stand behind a chained parameter. */
  private static final int MOST_CHAINED = 5_000;

  private final SearchResources resources;
  private final ZoneId zone;

  /**
   * @param zone of dates that name no offset
   */
  SearchReading(SearchResources resources, ZoneId zone) {
    this.resources = resources;
    this.zone = zone;
  }

  SearchQuery read(FhirRequest request, List<Parameter> parameters) {
    SearchSelection selection =
        new SearchSelection(
            request.base(),
            new SearchTime(zone, request.now()),
            (type, condition) -> {
              FhirAccess.require(request.caller(), List.of(Need.of(type, Permission.SEARCH)));
              return ids(type, condition, request.now());
            });
    return SearchQuery.of(request, parameters, selection);
  }

  private Set<String> ids(String type, SearchCondition condition, Instant now) {
    ResourceQuery query =
        new ResourceQuery(
            type,
            Set.of(),
            Set.of(),
            Set.of(),
            List.of(condition),
            SearchOrder.BY_ID,
            Optional.empty(),
            MOST_CHAINED);
    Found found = resources.find(query, Total.NONE, now);
    if (found.more()) {
      throw FhirRefusal.of(
          400,
          IssueCode.TOO_MANY_FOLLOWED,
          condition.parameter(),
          "More than "
              + MOST_CHAINED
              + " resources of type "
              + type
              + " meet the chained parameter; expected a narrower one.");
    }
    return found.resources().stream().map(one -> one.key().id()).collect(Collectors.toSet());
  }
}
