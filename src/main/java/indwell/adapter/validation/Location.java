package indwell.adapter.validation;

import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;

/**
 * Where a message of the library points.
 *
 * @param expression as FHIRPath: {@code Bundle.entry[1].resource.value.ofType(Quantity).code}
 * @param paths the same as paths of element definitions, most specific last: from the innermost
 *     resource on, and from each extension on; {@code ofType(X)} is kept
 */
record Location(String expression, List<String> paths) {
  /** Between a Bundle or a container and the resource in it, the library names that resource. */
  private static final Pattern INNER = Pattern.compile("/\\*(\\w+)/[^*]*\\*/");

  /** The library's name for a document of which it cannot tell what it is. */
  private static final String WHOLE = "$";

  private static final Pattern INDEX = Pattern.compile("\\[(\\d+|x)]");
  private static final Pattern AFTER_EXTENSION = Pattern.compile("\\.(modifierE|e)xtension(?=\\.)");

  static Location of(String given) {
    String bare = INNER.matcher(given).replaceAll("").replace("[x]", "");
    String expression = bare.equals(WHOLE) ? "" : tidy(bare);
    String path = tidy(INDEX.matcher(innermost(given)).replaceAll(""));
    List<String> paths = new ArrayList<>();
    paths.add(path);
    AFTER_EXTENSION
        .matcher(path)
        .results()
        .forEach(extension -> paths.add("Extension" + path.substring(extension.end())));
    if (path.endsWith(".extension") || path.endsWith(".modifierExtension")) {
      paths.add("Extension");
    }
    return new Location(expression, List.copyOf(paths));
  }

  private static String innermost(String given) {
    String path = given;
    var inner = INNER.matcher(given);
    while (inner.find()) {
      path = inner.group(1) + given.substring(inner.end());
    }
    return path;
  }

  private static String tidy(String path) {
    return path.endsWith(".") ? path.substring(0, path.length() - 1) : path;
  }
}
