package indwell.fuzz;

import indwell.web.fhir.FhirCalls;
import java.util.List;

/** FHIR bodies, to every interaction that takes one. */
final class FhirTarget implements Target {
  private static final List<String> POSTED =
      List.of(
          "Patient/$validate",
          "Observation/$validate",
          "Procedure/$validate",
          "$device-days",
          "Procedure");
  private static final List<String> PUT = List.of("Location/A-1", "Observation/x");

  private final FhirCalls calls = new FhirCalls();

  @Override
  public void take(byte[] input) {
    for (String path : POSTED) {
      Oracle.answered(calls.send("POST", path, input));
    }
    for (String path : PUT) {
      Oracle.answered(calls.send("PUT", path, input));
    }
  }
}
