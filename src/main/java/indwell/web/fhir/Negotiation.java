package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.web.MediaType;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** Chooses the media type of an answer (RFC 9110, section 12.5.1; FHIR R4, http.html#mime-type). */
final class Negotiation {
  static final String FHIR_JSON = "application/fhir+json";
  static final String CSV = "text/csv";

  /** What every interaction can answer with. */
  static final List<String> JSON_TYPES = List.of(FHIR_JSON, "application/json");

  private Negotiation() {}

  private record Range(MediaType type, double weight) {}

  /**
   * Chooses.
   *
   * @param format the parameter {@code _format}, which goes before the header
   * @param produced what the interaction can answer with, the preferred one first
   * @throws FhirRefusal 406 when none of it is acceptable
   */
  static String choose(Optional<String> accept, Optional<String> format, List<String> produced) {
    if (format.isPresent()) {
      return byFormat(format.get(), produced);
    }
    if (accept.isEmpty() || accept.get().isBlank()) {
      return produced.get(0);
    }
    List<Range> ranges = ranges(accept.get());
    return produced.stream()
        .filter(type -> weight(type, ranges) > 0)
        .max(Comparator.comparingDouble(type -> weight(type, ranges)))
        .map(best -> firstOfWeight(produced, ranges, weight(best, ranges)))
        .orElseThrow(() -> notAcceptable("header Accept", accept.get(), produced));
  }

  private static String firstOfWeight(List<String> produced, List<Range> ranges, double weight) {
    return produced.stream()
        .filter(type -> weight(type, ranges) == weight)
        .findFirst()
        .orElseThrow();
  }

  private static String byFormat(String format, List<String> produced) {
    // A plus sign that was not escaped has become a space.
    String wanted = format.trim().replace("fhir json", "fhir+json");
    String name = wanted.equals("json") ? FHIR_JSON : wanted.equals("csv") ? CSV : wanted;
    return MediaType.parse(name)
        .map(MediaType::toString)
        .filter(produced::contains)
        .orElseThrow(() -> notAcceptable("parameter _format", format, produced));
  }

  private static List<Range> ranges(String accept) {
    List<Range> ranges = new ArrayList<>();
    for (String part : accept.split(",", -1)) {
      MediaType.parse(part).ifPresent(type -> ranges.add(new Range(type, quality(part))));
    }
    return ranges;
  }

  private static double quality(String part) {
    for (String parameter : part.split(";", -1)) {
      String[] pair = parameter.trim().split("=", 2);
      if (pair.length == 2 && pair[0].trim().equalsIgnoreCase("q")) {
        try {
          return Math.min(1, Math.max(0, Double.parseDouble(pair[1].trim())));
        } catch (NumberFormatException e) {
          return 0;
        }
      }
    }
    return 1;
  }

  /** The weight of the most specific range that takes the type. */
  private static double weight(String produced, List<Range> ranges) {
    MediaType type = MediaType.parse(produced).orElseThrow();
    return ranges.stream()
        .filter(range -> range.type().takes(type))
        .max(Comparator.comparingInt(range -> specificity(range.type())))
        .map(Range::weight)
        .orElse(0.0);
  }

  private static int specificity(MediaType range) {
    return range.type().equals("*") ? 0 : range.subtype().equals("*") ? 1 : 2;
  }

  private static FhirRefusal notAcceptable(String where, String given, List<String> produced) {
    return FhirRefusal.of(
        406,
        IssueCode.NOT_ACCEPTABLE,
        "",
        "The "
            + where
            + " with "
            + Shown.text(given)
            + " asks for what is not made here; expected "
            + String.join(" or ", produced)
            + ".");
  }
}
