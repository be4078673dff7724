package indwell.adapter.validation;

import ca.uhn.fhir.validation.FhirValidator;
import ca.uhn.fhir.validation.SingleValidationMessage;
import indwell.port.ProfileValidator;
import java.nio.charset.StandardCharsets;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;

/** What is said of a resource, in the library's own words, so that it can be compared. */
public final class Verdicts {
  private Verdicts() {}

  /** By our validator, before anything is put into words of our own. */
  public static Set<String> ofOurs(ProfileValidator validator, byte[] json) {
    return new TreeSet<>(((HapiProfileValidator) validator).libraryLines(json));
  }

  /** By the library's own module. */
  public static Set<String> ofStock(FhirValidator stock, byte[] json) {
    String text = new String(json, StandardCharsets.UTF_8);
    return stock.validateWithResult(text).getMessages().stream()
        .map(Verdicts::line)
        .collect(Collectors.toCollection(TreeSet::new));
  }

  private static String line(SingleValidationMessage one) {
    return one.getSeverity().getCode() + " | " + one.getLocationString() + " | " + one.getMessage();
  }
}
