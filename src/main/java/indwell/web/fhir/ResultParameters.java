package indwell.web.fhir;

import indwell.fhir.search.SearchParameter;
import indwell.fhir.search.SearchParameter.Kind;
import indwell.fhir.search.SearchParameters;
import indwell.usecase.SearchResources.Total;
import indwell.web.fhir.QueryText.Parameter;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/**
 * What a search says about its answer instead of about the resources.
 *
 * @param count resources a page; 0 for the number alone
 * @param sort name of what to sort by, with a minus sign for descending
 * @param page where the page begins; empty for the first
 * @param includes what to add because a match refers to it
 * @param revincludes what to add because it refers to a match
 * @param shape how much of each resource to give
 */
record ResultParameters(
    int count,
    Total total,
    String sort,
    Optional<String> page,
    List<Include> includes,
    List<Include> revincludes,
    Shape shape) {
  static final String COUNT = "_count";
  static final String TOTAL = "_total";
  static final String SORT = "_sort";
  static final String INCLUDE = "_include";
  static final String REVINCLUDE = "_revinclude";

  /** Our own: where the next page starts, in next links only. */
  static final String AFTER = "_after";

  static final int DEFAULT_COUNT = 50;
  static final int MOST = 1_000;

  static final Set<String> NAMES =
      Set.of(COUNT, Shape.SUMMARY, Shape.ELEMENTS, TOTAL, SORT, INCLUDE, REVINCLUDE, AFTER);

  /**
   * Reads them.
   *
   * @throws FhirRefusal 400 for one that stands twice or has a value that it cannot have
   */
  static ResultParameters of(String type, List<Parameter> given) {
    String summary = oneOf(given, Shape.SUMMARY, List.of("false", "true", "text", "data", "count"));
    boolean countOnly = summary.equals("count");
    int count = single(given, COUNT).map(ResultParameters::number).orElse(DEFAULT_COUNT);
    String total = oneOf(given, TOTAL, List.of("", "none", "estimate", "accurate"));
    List<Include> includes = includes(given, INCLUDE, Include.from(type));
    List<Include> revincludes = includes(given, REVINCLUDE, Include.to(type));
    if (summary.equals("text") && !(includes.isEmpty() && revincludes.isEmpty())) {
      throw FhirRefusal.badParameter(
          Shape.SUMMARY,
          "Parameter _summary=text does not go with _include or _revinclude; expected it without.");
    }
    return new ResultParameters(
        countOnly ? 0 : count,
        countOnly || count == 0 ? Total.ACCURATE : total(total),
        oneOf(given, SORT, sorts(type)),
        single(given, AFTER),
        includes,
        revincludes,
        Shape.of(type, summary, given));
  }

  private static Total total(String text) {
    return switch (text) {
      case "" -> Total.IF_CHEAP;
      case "none" -> Total.NONE;
      default -> Total.ACCURATE;
    };
  }

  /** What the type can be sorted by; the first is what holds when nothing is said. */
  static List<String> sorts(String type) {
    return Stream.concat(
            Stream.of(SearchParameters.ID),
            SearchParameters.of(type).stream()
                .filter(one -> one.kind() == Kind.DATE)
                .filter(one -> !one.name().equals("location-period"))
                .map(SearchParameter::name))
        .flatMap(name -> Stream.of(name, "-" + name))
        .toList();
  }

  private static List<Include> includes(
      List<Parameter> given, String name, List<Include> possible) {
    List<Include> includes = new ArrayList<>();
    for (Parameter one : given) {
      if (one.name().equals(name)) {
        includes.addAll(Include.read(one, possible));
      }
    }
    return includes.stream().distinct().toList();
  }

  private static Optional<String> single(List<Parameter> given, String name) {
    List<String> values =
        given.stream().filter(one -> one.name().equals(name)).map(Parameter::value).toList();
    if (values.size() > 1) {
      throw FhirRefusal.badParameter(
          name, "Parameter " + name + " stands " + values.size() + " times; expected it once.");
    }
    return values.stream().findFirst();
  }

  /**
   * The value of a parameter that has to be one of a few.
   *
   * @param possible the first is what holds without it
   * @throws FhirRefusal 400 for another, and for one that stands twice
   */
  static String oneOf(List<Parameter> given, String name, List<String> possible) {
    String value = single(given, name).orElse(possible.get(0));
    if (!possible.contains(value) || (value.isEmpty() && single(given, name).isPresent())) {
      throw FhirRefusal.badParameter(
          name,
          "Value "
              + Shown.text(value)
              + " of parameter "
              + name
              + " is not supported; expected "
              + String.join(", ", possible.stream().filter(one -> !one.isEmpty()).toList())
              + ".");
    }
    return value;
  }

  /** A server may give fewer than asked for, so a larger number is no error. */
  static int number(String text) {
    if (!text.matches("[0-9]{1,9}")) {
      throw FhirRefusal.badParameter(
          COUNT,
          "Value "
              + Shown.text(text)
              + " of parameter _count is no number of resources; expected 0 to "
              + MOST
              + ".");
    }
    return Math.min(MOST, Integer.parseInt(text));
  }
}
