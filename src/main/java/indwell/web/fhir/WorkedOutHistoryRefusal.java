package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.domain.refusal.IssueCode;
import indwell.web.HttpAnswer;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/** What is worked out anew each time has no versions to be read. */
final class WorkedOutHistoryRefusal implements Interaction {
  private final Route route;

  private WorkedOutHistoryRefusal(Route route) {
    this.route = route;
  }

  /** One for each address at which a history would be. */
  static List<WorkedOutHistoryRefusal> all() {
    return Stream.of("{type}/_history", "{type}/{id}/_history", "{type}/{id}/_history/{vid}")
        .map(
            path ->
                new WorkedOutHistoryRefusal(Route.of(Set.of("GET"), path, SearchForm.WORKED_OUT)))
        .toList();
  }

  @Override
  public Route route() {
    return route;
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of(
        Need.of(request.type(), request.path().size() == 2 ? Permission.SEARCH : Permission.READ));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    throw FhirRefusal.of(
        404,
        IssueCode.NO_HISTORY,
        "",
        request.type()
            + " has no history, because it is "
            + (request.type().equals("AuditEvent")
                ? "never changed; expected a read or a search."
                : "worked out from the events; expected a read or a search, or the history of the"
                    + " resources that it names."));
  }

  /** What is refused is not described. */
  @Override
  public void describe(Capabilities capabilities) {}
}
