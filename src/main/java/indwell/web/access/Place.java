package indwell.web.access;

import indwell.fhir.search.SearchParameter;
import indwell.fhir.search.SearchParameter.Kind;
import indwell.fhir.search.SearchParameters;
import indwell.port.AuditEntry.Interaction;
import io.netty.handler.codec.http.QueryStringDecoder;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map.Entry;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.ResourceType;

/**
 * What an address says to the audit trail. An address is whatever somebody typed, a name or a token
 * perhaps, so only words that the service knows itself are kept of it; an id is kept where it is
 * one that the service makes, or where something was found by it.
 *
 * @param text method and address as the route has it
 */
record Place(String text, Interaction interaction, Optional<String> type, Optional<String> id) {
  private static final Set<String> METHODS =
      Set.of("GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "OPTIONS");

  private static final Set<String> TYPES =
      Arrays.stream(ResourceType.values()).map(Enum::name).collect(Collectors.toSet());

  private static final Set<String> WORDS =
      Set.of(
          "fhir",
          "events",
          "surveillance",
          "candidates",
          "versions",
          "publishing",
          "connection",
          "parked",
          "wards",
          "patients",
          "insertions",
          "report",
          "report.csv",
          "record",
          "take-back",
          "recorder",
          "login",
          "callback",
          "logout",
          "_history",
          "_search",
          "$device-days",
          "$catheter-days",
          "$overdue",
          "$unit-report",
          "$validate",
          "$export",
          "$release",
          "$skip");

  /** Derived ids, those of flags, and those of AuditEvents. */
  private static final Pattern OURS = Pattern.compile("[a-z2-7]{26}(-[a-z2-7]{8,40})?|a[0-9]{19}");

  private static final Pattern ID = Pattern.compile("[A-Za-z0-9\\-.]{1,64}");

  /**
   * Dates and times with their prefix, small numbers, yes and no: none of them names anybody where
   * no id is asked for.
   */
  private static final Pattern HARMLESS =
      Pattern.compile(
          "([a-z]{2})?\\d{4}(-\\d\\d(-\\d\\d(T[\\d:.]{5,18}(Z|[+ -]\\d\\d:\\d\\d)?)?)?)?"
              + "|\\d{1,4}");

  private static final Set<String> PARAMETERS = parameters();

  /** What these are given can be the number of a patient, however short it is. */
  private static final Set<String> NAMING =
      TYPES.stream()
          .flatMap(type -> SearchParameters.of(type).stream())
          .filter(one -> one.kind() != Kind.DATE)
          .map(SearchParameter::name)
          .collect(Collectors.toUnmodifiableSet());

  private static Set<String> parameters() {
    Set<String> names =
        new TreeSet<>(
            List.of(
                "_count",
                "_total",
                "_sort",
                "_summary",
                "_elements",
                "_include",
                "_revinclude",
                "_after",
                "_format",
                "_pretty",
                "_since",
                "_until",
                "_type",
                "_typeFilter",
                "_outputFormat",
                "start",
                "end",
                "asOf",
                "ward",
                "why",
                "report-type",
                "restate",
                "month"));
    TYPES.forEach(type -> SearchParameters.of(type).forEach(one -> names.add(one.name())));
    return names;
  }

  static Place of(String method, String path) {
    List<String> segments = segments(path);
    String verb = METHODS.contains(method) ? method : "{method}";
    String text =
        segments.stream().map(one -> known(one) ? one : "{}").collect(Collectors.joining("/"));
    Optional<String> type = type(segments);
    return new Place(
        verb + " /" + text,
        interaction(verb.equals("HEAD") ? "GET" : verb, segments),
        type,
        type.flatMap(one -> id(segments)));
  }

  private static List<String> segments(String path) {
    return Stream.of(path.split("/", -1))
        .filter(one -> !one.isEmpty())
        .map(Place::decoded)
        .toList();
  }

  private static String decoded(String segment) {
    try {
      return QueryStringDecoder.decodeComponent(segment);
    } catch (IllegalArgumentException undecodable) {
      return "";
    }
  }

  private static boolean known(String segment) {
    return WORDS.contains(segment) || TYPES.contains(segment);
  }

  private static Optional<String> type(List<String> segments) {
    return segments.isEmpty()
        ? Optional.empty()
        : switch (segments.get(0)) {
          case "fhir" -> segments.stream().skip(1).limit(1).filter(TYPES::contains).findFirst();
          case "publishing" ->
              segments.stream().skip(2).limit(1).filter(TYPES::contains).findFirst();
          case "patients" -> Optional.of("Patient");
          case "insertions" -> Optional.of("Procedure");
          case "wards", "surveillance" -> Optional.of("Location");
          default -> Optional.empty();
        };
  }

  /** What comes next to the type, unless it is a word of ours. */
  private static Optional<String> id(List<String> segments) {
    int place =
        switch (segments.get(0)) {
          case "fhir" -> 2;
          case "publishing" -> 3;
          default -> 1;
        };
    return segments.stream()
        .skip(place)
        .limit(1)
        .filter(one -> !known(one) && ID.matcher(one).matches())
        .findFirst();
  }

  private static Interaction interaction(String method, List<String> segments) {
    if (segments.isEmpty()) {
      return other(method);
    }
    return switch (segments.get(0)) {
      case "fhir" -> fhir(method, segments.subList(1, segments.size()));
      case "events" -> Interaction.CREATE;
      case "surveillance" -> facts(method, segments);
      case "login" -> Interaction.LOGIN;
      case "logout" -> Interaction.LOGOUT;
      default -> other(method);
    };
  }

  private static Interaction facts(String method, List<String> segments) {
    return switch (method) {
      case "PUT" -> Interaction.UPDATE;
      case "POST" -> segments.contains("candidates") ? Interaction.OPERATION : Interaction.CREATE;
      default -> other(method);
    };
  }

  private static Interaction other(String method) {
    return method.equals("GET") ? Interaction.VIEW : Interaction.OPERATION;
  }

  private static Interaction fhir(String method, List<String> below) {
    if (below.stream().anyMatch(one -> one.startsWith("$"))) {
      return Interaction.OPERATION;
    }
    if (below.contains("_history")) {
      return history(below);
    }
    if (below.contains("_search")) {
      return Interaction.SEARCH_TYPE;
    }
    return switch (method) {
      case "GET" -> below.size() == 2 ? Interaction.READ : Interaction.SEARCH_TYPE;
      case "POST" -> below.isEmpty() ? Interaction.TRANSACTION : Interaction.CREATE;
      case "PUT" -> Interaction.UPDATE;
      case "DELETE" -> Interaction.DELETE;
      default -> Interaction.OPERATION;
    };
  }

  private static Interaction history(List<String> below) {
    return switch (below.indexOf("_history")) {
      case 0 -> Interaction.HISTORY_SYSTEM;
      case 1 -> Interaction.HISTORY_TYPE;
      default -> below.size() > 3 ? Interaction.VREAD : Interaction.HISTORY_INSTANCE;
    };
  }

  /** What it is about, relative; a Patient is told by {@link #patient}. */
  Optional<String> entity(int status) {
    return type.filter(one -> !one.equals("Patient"))
        .flatMap(one -> kept(status).map(name -> one + "/" + name));
  }

  /** The id of the Patient that the address names. */
  Optional<String> patient(int status) {
    return type.filter("Patient"::equals).flatMap(one -> kept(status));
  }

  private Optional<String> kept(int status) {
    return id.filter(one -> status < 400 || OURS.matcher(one).matches());
  }

  /** The id of the one Patient that the parameters ask about. */
  static Optional<String> patient(Iterable<Entry<String, String>> asked) {
    List<String> ids = new ArrayList<>();
    for (Entry<String, String> one : asked) {
      if (one.getKey().equals("patient") || one.getKey().equals("subject")) {
        String text = one.getValue();
        ids.add(text.startsWith("Patient/") ? text.substring("Patient/".length()) : text);
      }
    }
    return ids.size() == 1
        ? ids.stream().filter(id -> OURS.matcher(id).matches()).findFirst()
        : Optional.empty();
  }

  /** The parameters, in their order: names that are known, with values that name nobody. */
  static String query(Iterable<Entry<String, String>> asked) {
    List<String> kept = new ArrayList<>();
    for (Entry<String, String> one : asked) {
      String name = one.getKey().split("[:.]", 2)[0];
      if (PARAMETERS.contains(name)) {
        kept.add(namesNobody(name, one.getValue()) ? name + "=" + one.getValue() : name);
      }
    }
    return String.join("&", kept);
  }

  private static boolean namesNobody(String name, String value) {
    return value.equals("true")
        || value.equals("false")
        || (HARMLESS.matcher(value).matches() && !NAMING.contains(name));
  }
}
