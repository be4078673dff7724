package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.web.HttpAnswer;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/** Flags are worked out anew each time, so there are no versions of them to be read. */
final class FlagHistoryRefusal implements Interaction {
  private final Route route;

  private FlagHistoryRefusal(Route route) {
    this.route = route;
  }

  /** One for each address at which a history would be. */
  static List<FlagHistoryRefusal> all() {
    return Stream.of("{type}/_history", "{type}/{id}/_history", "{type}/{id}/_history/{vid}")
        .map(path -> new FlagHistoryRefusal(Route.of(Set.of("GET"), path, Set.of("Flag"))))
        .toList();
  }

  @Override
  public Route route() {
    return route;
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    throw FhirRefusal.of(
        404,
        IssueCode.NO_HISTORY,
        "",
        "Flag has no history, because flags are worked out from the events; expected a read or a"
            + " search of Flag, or the history of the resources that its trace names.");
  }

  /** What is refused is not described. */
  @Override
  public void describe(Capabilities capabilities) {}
}
