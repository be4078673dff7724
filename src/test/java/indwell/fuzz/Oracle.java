package indwell.fuzz;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.domain.refusal.Issue;
import indwell.web.HttpAnswer;
import java.io.IOException;
import java.util.List;
import java.util.regex.Pattern;

/** What has to be true of every answer, whatever was sent. */
final class Oracle {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final Pattern CODE = Pattern.compile("IND-\\d{4}");

  private Oracle() {}

  /** Fails unless it holds. */
  static void require(boolean holds, String what) {
    if (!holds) {
      throw new AssertionError(what);
    }
  }

  /** A refusal is the caller's fault, has a code, and says what was expected. */
  static void refused(int status, List<Issue> issues) {
    require(status >= 400 && status < 500, "Refused with status " + status + ": " + issues);
    require(!issues.isEmpty(), "Refused without a reason");
    issues.forEach(issue -> sentence(issue.diagnostics()));
  }

  /** One line, a whole sentence. */
  static void sentence(String text) {
    require(text.endsWith("."), "No sentence: " + text);
    require(text.codePoints().noneMatch(Character::isISOControl), "Control character: " + text);
    require(text.length() < 4_000, "A sentence of " + text.length() + " characters");
  }

  /** An answer of the FHIR interface: never a fault, always JSON, an outcome where it refuses. */
  static void answered(HttpAnswer answer) {
    String body = answer.body().toString();
    require(answer.status() < 500, "Status " + answer.status() + ": " + body);
    if (answer.body().length() == 0) {
      return;
    }
    JsonNode json = read(body);
    if (answer.status() >= 400) {
      outcome(answer.status(), json);
    }
    for (JsonNode entry : json.path("entry")) {
      String status = entry.at("/response/status").asText();
      require(!status.startsWith("5"), "An entry is answered by " + status + ": " + entry);
    }
  }

  /** What the validator finds in a resource that is put has no code of ours. */
  private static void outcome(int status, JsonNode json) {
    require(json.path("resourceType").asText().equals("OperationOutcome"), "No outcome: " + json);
    require(!json.path("issue").isEmpty(), "No issue: " + json);
    for (JsonNode issue : json.path("issue")) {
      boolean coded = CODE.matcher(issue.at("/details/coding/0/code").asText()).matches();
      require(coded || status == 422, "No code: " + issue);
      require(!issue.path("diagnostics").asText().isBlank(), "No sentence: " + issue);
    }
  }

  private static JsonNode read(String body) {
    try {
      return JSON.readTree(body);
    } catch (IOException e) {
      throw new AssertionError("The answer is no JSON: " + body, e);
    }
  }
}
