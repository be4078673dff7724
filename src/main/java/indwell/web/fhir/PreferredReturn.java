package indwell.web.fhir;

import indwell.web.HttpAnswer;
import java.util.Arrays;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What a caller prefers to be sent back of a change.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#ops and RFC 7240, section 4.2
 */
enum PreferredReturn {
  /** Nothing but status and headers. */
  MINIMAL("minimal"),
  /** The resource as it is kept. */
  REPRESENTATION("representation"),
  /** What is to be said about the change. */
  OUTCOME("OperationOutcome");

  /** What works, for the CapabilityStatement. */
  static final String DOCUMENTATION =
      "Prefer: return=minimal, return=representation and return=OperationOutcome are followed by"
          + " create and update, and for each entry of a transaction or batch that changes"
          + " something. Without a preference a create or update gives the resource, an entry its"
          + " place and version.";

  private static final Pattern RETURN =
      Pattern.compile("return\\s*=\\s*\"?(\\w+)\"?", Pattern.CASE_INSENSITIVE);

  private final String word;

  PreferredReturn(String word) {
    this.word = word;
  }

  /** The first that is known; what is not is passed over, as RFC 7240 wants it. */
  static Optional<PreferredReturn> of(FhirRequest request) {
    return request.headers().prefer().stream()
        .flatMap(prefer -> Arrays.stream(prefer.split(",", -1)))
        .map(one -> RETURN.matcher(one.split(";", 2)[0].trim()))
        .filter(Matcher::matches)
        .flatMap(wish -> Arrays.stream(values()).filter(one -> one.isNamed(wish.group(1))))
        .findFirst();
  }

  private boolean isNamed(String name) {
    return word.equalsIgnoreCase(name);
  }

  /** The same answer, which says that the preference was followed. */
  HttpAnswer on(HttpAnswer answer) {
    return answer.with("Preference-Applied", "return=" + word);
  }
}
