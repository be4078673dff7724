package indwell.fuzz;

import indwell.web.fhir.FhirCalls;
import java.nio.charset.StandardCharsets;

/** Addresses below {@code /fhir} with their queries: reads, histories, searches, operations. */
final class QueryTarget implements Target {
  private final FhirCalls calls = new FhirCalls();

  @Override
  public void take(byte[] input) {
    String url = new String(input, StandardCharsets.UTF_8);
    Oracle.answered(calls.get(url));
    int mark = url.indexOf('?');
    if (mark >= 0) {
      byte[] form = url.substring(mark + 1).getBytes(StandardCharsets.UTF_8);
      Oracle.answered(calls.send("POST", "Procedure/_search", form));
    }
  }
}
