package indwell.usecase.publish;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.function.Function;

/**
 * What a fake hospital does with a request instead of answering it.
 *
 * @param how what happens
 * @param status of the answer, where there is one
 * @param headers of the answer
 * @param body of the answer
 */
public record Fault(How how, int status, Map<String, String> headers, String body) {
  /** What happens to a request. */
  public enum How {
    /** Nothing is done; the status is answered. */
    ANSWER,
    /** Nothing is done, nothing is answered. */
    SILENCE,
    /** It is done, nothing is answered. */
    DONE_AND_SILENCE,
    /** It is done, the answer breaks off. */
    DONE_AND_CUT,
    /** It is done, the connection is closed before an answer. */
    DONE_AND_CLOSED,
    /** It is done, the answer comes byte by byte and never ends. */
    DONE_AND_DRIPPING
  }

  /** Faults that heal by themselves. */
  private static final List<Fault> PASSING =
      List.of(
          status(429, "Retry-After", "0"),
          status(503),
          status(500),
          html(502),
          html(200),
          status(408),
          outcome(409, "conflict", "Somebody else was writing."),
          of(How.SILENCE),
          of(How.DONE_AND_SILENCE),
          of(How.DONE_AND_CUT),
          of(How.DONE_AND_CLOSED),
          of(How.DONE_AND_DRIPPING));

  /** So many requests in a hundred go wrong in a way that heals, which is up to the seed. */
  public static Function<FakeHospital.Asked, Optional<Fault>> passing(long seed, int inHundred) {
    Random random = new Random(seed);
    return request -> {
      synchronized (random) {
        return random.nextInt(100) < inHundred
            ? Optional.of(PASSING.get(random.nextInt(PASSING.size())))
            : Optional.empty();
      }
    };
  }

  static Fault status(int status, String... headers) {
    Map<String, String> all = new java.util.TreeMap<>();
    for (int i = 0; i < headers.length; i += 2) {
      all.put(headers[i], headers[i + 1]);
    }
    return new Fault(How.ANSWER, status, all, "");
  }

  static Fault outcome(int status, String code, String diagnostics) {
    return new Fault(
        How.ANSWER,
        status,
        Map.of("Content-Type", "application/fhir+json"),
        "{\"resourceType\":\"OperationOutcome\",\"issue\":[{\"severity\":\"error\",\"code\":\""
            + code
            + "\",\"diagnostics\":\""
            + diagnostics
            + "\"}]}");
  }

  static Fault html(int status) {
    return new Fault(
        How.ANSWER, status, Map.of("Content-Type", "text/html"), "<html>Please log in</html>");
  }

  static Fault of(How how) {
    return new Fault(how, 200, Map.of(), "");
  }
}
