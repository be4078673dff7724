package indwell.web.fhir;

import indwell.web.RequestNotes;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * Where an interaction is found.
 *
 * @param methods {@code GET} stands for HEAD as well
 * @param segments below {@code /fhir}: literals, {@code {type}}, {@code {id}} or {@code {vid}}
 * @param types the resource types that {@code {type}} stands for
 */
record Route(Set<String> methods, List<String> segments, Set<String> types) {
  /** FHIR R4, datatype id. */
  private static final Pattern ID = Pattern.compile("[A-Za-z0-9\\-.]{1,64}");

  Route {
    methods = Set.copyOf(methods);
    segments = List.copyOf(segments);
    types = Set.copyOf(types);
  }

  /** A route for one or more resource types; the path is written with slashes. */
  static Route of(Set<String> methods, String path, Set<String> types) {
    return new Route(methods, List.of(path.split("/", -1)), types);
  }

  /** A route without {@code {type}}. */
  static Route of(Set<String> methods, String path) {
    return of(methods, path, Set.of());
  }

  /** Notes which one was taken: of a path that matches, its type and nothing else of it. */
  void note(List<String> path, RequestNotes notes) {
    notes.route(segments.isEmpty() ? "/fhir" : "/fhir/" + String.join("/", segments));
    int type = segments.indexOf("{type}");
    if (type >= 0) {
      notes.type(path.get(type));
    }
  }

  boolean matches(List<String> path) {
    if (path.size() != segments.size()) {
      return false;
    }
    for (int i = 0; i < path.size(); i++) {
      if (!matches(segments.get(i), path.get(i))) {
        return false;
      }
    }
    return true;
  }

  private boolean matches(String segment, String given) {
    return switch (segment) {
      case "{type}" -> types.contains(given);
      case "{id}", "{vid}" -> ID.matcher(given).matches();
      default -> segment.equals(given);
    };
  }
}
