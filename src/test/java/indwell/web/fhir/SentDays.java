package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.contract.SharedValidator;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.function.UnaryOperator;

/** Sends resources of another system to be counted, and reads what is answered. */
final class SentDays implements AutoCloseable {
  static final String JSON = "application/fhir+json";
  static final String LINES = "application/fhir+ndjson";
  static final String MARCH = "/$device-days?start=2026-03-01&end=2026-03-07";

  /**
   * Midnights in Berlin of {@link EhrResources#story}: patient days 2 to 6 March, with the catheter
   * on 3 and 4 March.
   */
  static final String FIVE_AND_TWO = "5 2";

  private final FhirServer server = new FhirServer(SharedValidator.WARM);

  SentDays() throws Exception {}

  HttpResponse<String> post(String path, String type, String body, String... headers)
      throws Exception {
    return server.post(path, type, body, headers);
  }

  /** Sends lines and asks for the first week of March. */
  HttpResponse<String> send(List<String> lines, String... headers) throws Exception {
    return post(MARCH, LINES, String.join("\n", lines), headers);
  }

  /** The answer to lines that are counted. */
  JsonNode count(List<String> lines, String... headers) throws Exception {
    HttpResponse<String> answer = send(lines, headers);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return Answers.read(answer.body());
  }

  /** The issues of lines that are not counted, each as its code and sentence. */
  List<String> refused(List<String> lines) throws Exception {
    return refusals(send(lines));
  }

  /** Both counts of the first report, after its ward. */
  static String sums(JsonNode bundle) {
    JsonNode report = bundle.at("/entry/0/resource");
    return report.at("/group/0/population/0/count").asText()
        + " "
        + report.at("/group/0/population/1/count").asText();
  }

  /** The warnings beside the counts, each as its code and sentence. */
  static List<String> remarks(JsonNode bundle) {
    List<String> remarks = new ArrayList<>();
    for (JsonNode entry : bundle.path("entry")) {
      for (JsonNode issue : entry.at("/resource/issue")) {
        assertThat(issue.get("severity").asText()).isEqualTo("warning");
        remarks.add(
            issue.at("/details/coding/0/code").asText() + " " + issue.get("diagnostics").asText());
      }
    }
    return remarks;
  }

  /** The issues of an answer that counted nothing, each as its code and sentence. */
  static List<String> refusals(HttpResponse<String> answer) throws Exception {
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(422);
    List<String> issues = new ArrayList<>();
    for (JsonNode issue : Answers.read(answer.body()).get("issue")) {
      issues.add(
          issue.at("/details/coding/0/code").asText() + " " + issue.get("diagnostics").asText());
    }
    return issues;
  }

  /** The lines and some more behind them. */
  static List<String> with(List<String> lines, String... more) {
    List<String> all = new ArrayList<>(lines);
    all.addAll(List.of(more));
    return all;
  }

  /** The lines, each of them changed. */
  static List<String> each(List<String> lines, UnaryOperator<String> change) {
    return lines.stream().map(change).toList();
  }

  /** Whatever was sent, nothing was stored. */
  @Override
  public void close() throws Exception {
    assertThat(new Answers(server).get("/_history").get("total").asInt()).isZero();
    server.close();
  }
}
