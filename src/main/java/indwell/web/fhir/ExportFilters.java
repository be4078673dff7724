package indwell.web.fhir;

import indwell.access.Caller;
import indwell.domain.refusal.Issue;
import indwell.port.ResourceQuery;
import indwell.usecase.SearchResources;
import indwell.usecase.export.ExportTypes;
import indwell.usecase.export.TypeFilters;
import indwell.web.fhir.QueryText.Parameter;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Reads {@code _typeFilter}s with what reads searches. */
public final class ExportFilters implements TypeFilters {
  /** FHIR R4, search.html: parameters about the answer, not about what is found. */
  private static final Set<String> ABOUT_THE_ANSWER =
      Set.of(
          "_sort",
          "_count",
          "_include",
          "_revinclude",
          "_summary",
          "_total",
          "_elements",
          "_contained",
          "_containedType",
          "_score",
          "_format",
          "_pretty",
          ResultParameters.AFTER);

  private final SearchReading searches;

  /**
   * @param zone of dates that name no offset
   */
  public ExportFilters(SearchResources search, ZoneId zone) {
    searches = new SearchReading(search, zone);
  }

  @Override
  public Optional<ResourceQuery> query(String base, String filter, Instant at) {
    // Whoever ordered the export was asked for what the filter needs.
    return read(base, filter, at, Caller.SERVICE).query();
  }

  /**
   * Reads one.
   *
   * @throws FhirRefusal 400 when it is none that can be used
   */
  SearchQuery read(String base, String filter, Instant now, Caller caller) {
    int mark = filter.indexOf('?');
    String type = mark < 0 ? filter : filter.substring(0, mark);
    if (mark < 0 || !ExportTypes.all().contains(type)) {
      throw bad(filter, "begins with no type that is exported and a question mark");
    }
    List<Parameter> parameters =
        QueryText.parameters(filter.substring(mark + 1))
            .orElseThrow(() -> bad(filter, "cannot be decoded"));
    if (parameters.isEmpty()) {
      throw bad(filter, "has no parameter");
    }
    for (Parameter one : parameters) {
      if (ABOUT_THE_ANSWER.contains(plain(one.name()))) {
        throw bad(filter, "has " + plain(one.name()) + ", which selects nothing");
      }
    }
    try {
      return searches.read(FhirRequest.search(base, type, parameters, now, caller), parameters);
    } catch (FhirRefusal refusal) {
      if (refusal.denies()) {
        throw refusal;
      }
      throw new FhirRefusal(
          refusal.status(), refusal.issues().stream().map(ExportFilters::place).toList());
    }
  }

  private static Issue place(Issue issue) {
    return new Issue(issue.severity(), issue.code(), issue.diagnostics(), "_typeFilter");
  }

  private static String plain(String name) {
    int colon = name.indexOf(':');
    return colon < 0 ? name : name.substring(0, colon);
  }

  private static FhirRefusal bad(String filter, String why) {
    return FhirRefusal.badParameter(
        "_typeFilter",
        "Value "
            + Shown.text(filter)
            + " of parameter _typeFilter "
            + why
            + "; expected a search such as Procedure?identifier=system|value.");
  }
}
