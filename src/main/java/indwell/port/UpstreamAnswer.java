package indwell.port;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.Resource;

/**
 * What came of a request to another server.
 *
 * @param status HTTP status; 0 when there was none
 * @param codes codes of the OperationOutcome, such as {@code invalid}; nothing of a patient
 * @param retryAfter how long the server asks to be left alone
 * @param named relative references that the OperationOutcome names
 * @param id the id that the resource has there; empty when the server did not say
 * @param version entity tag of the version that is there now; empty when the server did not say
 * @param resource what the server sent, if that could be read
 */
public record UpstreamAnswer(
    Kind kind,
    int status,
    List<String> codes,
    Optional<Duration> retryAfter,
    Set<String> named,
    String id,
    String version,
    Optional<Resource> resource) {

  /** What there is to do about an answer. */
  public enum Kind {
    /** Done. */
    TAKEN,
    /** Another version is there than the one that was expected, or somebody else was writing. */
    CONFLICT,
    /** No such resource, or it was deleted. */
    ABSENT,
    /** The server will say the same tomorrow. */
    REFUSED,
    /** The server asks to be left alone for a while. */
    BUSY,
    /** No answer, or a fault of the server; what was sent may have been taken or not. */
    UNKNOWN,
    /** Something answered that is no FHIR server. */
    NOT_FHIR,
    /** The server, or the one that gives tokens, does not know who asks. */
    UNAUTHORISED,
    /** The server sent us elsewhere; nobody went there. */
    REDIRECTED
  }

  public UpstreamAnswer {
    codes = List.copyOf(codes);
    named = Set.copyOf(named);
  }

  /** An answer without anything from the server. */
  public static UpstreamAnswer without(Kind kind, int status, String code) {
    return new UpstreamAnswer(
        kind, status, List.of(code), Optional.empty(), Set.of(), "", "", Optional.empty());
  }

  /** Status and codes, {@code 422 (invalid, required)}. */
  public String reason() {
    String words = codes.isEmpty() ? "" : "(" + String.join(", ", codes) + ")";
    return status == 0 ? "no answer " + words : (status + " " + words).strip();
  }
}
