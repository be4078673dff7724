package indwell.adapter.validation;

import ca.uhn.fhir.validation.FhirValidator;
import ca.uhn.fhir.validation.SingleValidationMessage;
import indwell.port.ProfileValidator;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Supplier;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * What is said of a resource, in the library's own words, so that it can be compared. Where the
 * library writes a thing of the program into a message, with its place in memory, the place is left
 * out: it is another one each time.
 */
public final class Verdicts {
  private static final String THROWS = "throws ";
  private static final Pattern PLACE =
      Pattern.compile("(\\bConceptSet\\w*Component)@[0-9a-f]{1,8}");

  private Verdicts() {}

  /** By our validator, before anything is put into words of our own. */
  public static Set<String> ofOurs(ProfileValidator validator, byte[] json) {
    return said(() -> ((HapiProfileValidator) validator).libraryLines(json));
  }

  /** By the library's own module. */
  public static Set<String> ofStock(FhirValidator stock, byte[] json) {
    String text = new String(json, StandardCharsets.UTF_8);
    return said(
        () -> stock.validateWithResult(text).getMessages().stream().map(Verdicts::line).toList());
  }

  /** Whether the library threw instead of saying anything. */
  public static boolean isFailure(Set<String> verdict) {
    return verdict.stream().anyMatch(line -> line.startsWith(THROWS));
  }

  /** Some mutants make the library throw. */
  private static Set<String> said(Supplier<List<String>> lines) {
    try {
      return lines.get().stream()
          .map(Verdicts::withoutPlace)
          .collect(Collectors.toCollection(TreeSet::new));
    } catch (RuntimeException thrown) {
      return new TreeSet<>(Set.of(THROWS + root(thrown).getClass().getName()));
    }
  }

  private static Throwable root(Throwable thrown) {
    return thrown.getCause() == null ? thrown : root(thrown.getCause());
  }

  private static String withoutPlace(String line) {
    return PLACE.matcher(line).replaceAll("$1");
  }

  private static String line(SingleValidationMessage one) {
    return one.getSeverity().getCode() + " | " + one.getLocationString() + " | " + one.getMessage();
  }
}
