package indwell.web.fhir;

import indwell.port.ResourceQuery;
import indwell.web.fhir.QueryText.Parameter;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * A search as it was asked.
 *
 * @param query what the store is asked; empty when nothing can meet the conditions
 * @param used the parameters that counted, for links, without the one for pages
 * @param ignored names that were passed over at the caller's wish
 * @param count resources a page; 0 for the number alone
 */
record SearchQuery(
    Optional<ResourceQuery> query, List<Parameter> used, List<String> ignored, int count) {
  static final int DEFAULT_COUNT = 50;
  static final int MOST = 1_000;

  /**
   * Reads the parameters.
   *
   * @throws FhirRefusal 400 for one that is not known, stands twice or has a value that it cannot
   *     have
   */
  static SearchQuery of(FhirRequest request) {
    String type = request.type();
    Set<String> known = SearchParameters.all(type);
    OperationInput input = OperationInput.of(request, known);
    int count = count(input);
    List<Parameter> used = new ArrayList<>();
    List<String> ignored = new ArrayList<>();
    for (Parameter one : request.parameters()) {
      if (!known.contains(one.name())) {
        ignored.add(one.name());
      } else if (!one.name().equals(SearchParameters.AFTER)) {
        used.add(one);
      }
    }
    return new SearchQuery(query(request, input, count), used, ignored, count);
  }

  private static Optional<ResourceQuery> query(
      FhirRequest request, OperationInput input, int count) {
    Optional<Set<String>> ids = alternatives(input, SearchParameters.ID);
    Optional<Set<String>> identifiers = alternatives(input, SearchParameters.IDENTIFIER);
    Optional<Set<String>> patients =
        both(
            patients(request, input, SearchParameters.PATIENT),
            patients(request, input, SearchParameters.SUBJECT));
    if (patients.filter(Set::isEmpty).isPresent()) {
      return Optional.empty();
    }
    return Optional.of(
        new ResourceQuery(
            request.type(),
            ids.orElse(Set.of()),
            identifiers.orElse(Set.of()),
            patients.orElse(Set.of()),
            input.text(SearchParameters.AFTER),
            count));
  }

  /** The values of one parameter that are separated by commas; any of them is to match. */
  private static Optional<Set<String>> alternatives(OperationInput input, String name) {
    return input.text(name).map(text -> alternatives(name, text));
  }

  private static Set<String> alternatives(String name, String text) {
    Set<String> values = new HashSet<>();
    StringBuilder value = new StringBuilder();
    boolean escaped = false;
    for (char c : (text + ",").toCharArray()) {
      if (!escaped && c == '\\') {
        escaped = true;
      } else if (!escaped && c == ',') {
        values.add(value.toString());
        value.setLength(0);
      } else {
        value.append(c);
        escaped = false;
      }
    }
    if (!value.isEmpty() || values.contains("") || values.contains("|")) {
      throw FhirRefusal.badParameter(
          name,
          "Value "
              + Shown.text(text)
              + " of parameter "
              + name
              + " is not complete; expected one or more values with commas between them.");
    }
    return values;
  }

  private static Optional<Set<String>> patients(
      FhirRequest request, OperationInput input, String name) {
    String absolute = request.base() + "/Patient/";
    return alternatives(input, name)
        .map(
            references ->
                references.stream()
                    .map(
                        reference ->
                            reference.startsWith(absolute)
                                ? reference.substring(absolute.length())
                                : reference.startsWith("Patient/")
                                    ? reference.substring("Patient/".length())
                                    : reference)
                    .filter(id -> id.indexOf('/') < 0)
                    .collect(Collectors.toSet()));
  }

  private static Optional<Set<String>> both(Optional<Set<String>> one, Optional<Set<String>> two) {
    if (one.isEmpty() || two.isEmpty()) {
      return one.or(() -> two);
    }
    Set<String> both = new HashSet<>(one.get());
    both.retainAll(two.get());
    return Optional.of(both);
  }

  private static int count(OperationInput input) {
    String summary = input.text(SearchParameters.SUMMARY).orElse("false");
    if (!summary.equals("count") && !summary.equals("false")) {
      throw FhirRefusal.badParameter(
          SearchParameters.SUMMARY,
          "Value "
              + Shown.text(summary)
              + " of parameter _summary is not made here; expected count or false.");
    }
    int count = input.text(SearchParameters.COUNT).map(SearchQuery::number).orElse(DEFAULT_COUNT);
    return summary.equals("count") ? 0 : count;
  }

  /** A server may give fewer than asked for, so a larger number is no error. */
  private static int number(String text) {
    if (!text.matches("[0-9]{1,9}")) {
      throw FhirRefusal.badParameter(
          SearchParameters.COUNT,
          "Value "
              + Shown.text(text)
              + " of parameter _count is no number of resources; expected 0 to "
              + MOST
              + ".");
    }
    return Math.min(MOST, Integer.parseInt(text));
  }
}
