package indwell.web.fhir;

import indwell.port.ClinicalStore;
import indwell.port.SurveillanceFacts;
import indwell.usecase.Facility;
import java.net.http.HttpResponse;
import java.time.Instant;
import java.time.YearMonth;
import java.util.List;
import java.util.OptionalInt;

/** What a store answers over HTTP, for tests of other packages. */
public final class AnswersOverHttp implements AutoCloseable {
  /** What stands in answers for the address of the server, whose port is another each time. */
  public static final String BASE = "http://localhost/fhir";

  private final FhirServer server;

  /** Leaves the store open when closed. */
  public AnswersOverHttp(ClinicalStore store, Facility facility, Instant now) throws Exception {
    server = new FhirServer(store, facility, now);
  }

  /** Takes facts of people over from another place. */
  public void takeFacts(SurveillanceFacts from, YearMonth start, YearMonth endInclusive) {
    server.facts.record(
        from.newest(start, endInclusive).values().stream()
            .map(
                one ->
                    new SurveillanceFacts.Stated(one.month(), one.canonical(), OptionalInt.empty()))
            .toList(),
        server.now(),
        taken -> List.of());
  }

  /** The body of a 200. */
  public String get(String path, String accept) throws Exception {
    HttpResponse<String> answer = server.get(path, "Accept", accept);
    if (answer.statusCode() != 200) {
      throw new AssertionError(answer.statusCode() + " " + answer.body());
    }
    return answer.body().replace(server.base(), BASE);
  }

  /** The body of a 200 to something sent. */
  public String post(String path, String contentType, String body, String accept) throws Exception {
    HttpResponse<String> answer = server.post(path, contentType, body, "Accept", accept);
    if (answer.statusCode() != 200) {
      throw new AssertionError(answer.statusCode() + " " + answer.body());
    }
    return answer.body().replace(server.base(), BASE);
  }

  @Override
  public void close() throws Exception {
    server.close();
  }
}
