package indwell.web.fhir;

import com.fasterxml.jackson.core.JsonGenerator;
import indwell.domain.refusal.Issue;
import indwell.fhir.map.FhirJson;
import indwell.fhir.outcome.Outcomes;
import indwell.port.StoredResource;
import indwell.usecase.transaction.Answer;
import indwell.web.HttpAnswer;
import io.netty.handler.codec.http.HttpResponseStatus;
import java.io.IOException;
import java.util.List;
import java.util.Optional;

/**
 * The answer to one entry, ready to be written.
 *
 * @param resource JSON of what was read, or of what a change made where that is preferred
 * @param outcome JSON of an OperationOutcome
 */
record EntryAnswer(
    int index,
    int status,
    Optional<String> location,
    Optional<String> eTag,
    Optional<String> lastModified,
    Optional<String> resource,
    Optional<String> outcome) {

  /**
   * Of a change that was made.
   *
   * @param preferred what the caller prefers of it; status, place and remarks where it does not say
   */
  static EntryAnswer of(Answer answer, String base, Optional<PreferredReturn> preferred) {
    Optional<StoredResource> stored = answer.resource();
    return new EntryAnswer(
        answer.index(),
        answer.status(),
        stored.map(one -> base + "/" + one.key().reference() + "/_history/" + one.version()),
        stored.map(Versioned::eTag),
        stored.map(one -> one.lastUpdated().toString()),
        stored
            .filter(one -> preferred.equals(Optional.of(PreferredReturn.REPRESENTATION)))
            .map(StoredResource::json),
        outcome(answer, preferred));
  }

  private static Optional<String> outcome(Answer answer, Optional<PreferredReturn> preferred) {
    if (preferred.equals(Optional.of(PreferredReturn.OUTCOME))) {
      return answer.resource().map(stored -> ChangedAnswer.outcome(stored, answer.remarks()));
    }
    return answer.remarks().isEmpty() || preferred.equals(Optional.of(PreferredReturn.MINIMAL))
        ? Optional.empty()
        : Optional.of(outcome(answer.remarks()));
  }

  /** Of a change that was not made. */
  static EntryAnswer of(int index, int status, List<Issue> issues) {
    return bare(index, status, Optional.empty(), Optional.of(outcome(issues)));
  }

  /** Of what was read, or could not be. */
  static EntryAnswer of(int index, HttpAnswer answer) {
    Optional<String> body = Optional.of(answer.body().toString()).filter(text -> !text.isEmpty());
    if (answer.status() >= 400) {
      return bare(index, answer.status(), Optional.empty(), body);
    }
    return new EntryAnswer(
        index,
        answer.status(),
        Optional.ofNullable(answer.headers().get("Content-Location")),
        Optional.ofNullable(answer.headers().get("ETag")),
        Optional.empty(),
        body,
        Optional.empty());
  }

  private static EntryAnswer bare(
      int index, int status, Optional<String> resource, Optional<String> outcome) {
    return new EntryAnswer(
        index, status, Optional.empty(), Optional.empty(), Optional.empty(), resource, outcome);
  }

  private static String outcome(List<Issue> issues) {
    return FhirJson.encode(Outcomes.of(issues));
  }

  /** Writes it as an entry. */
  void writeTo(JsonGenerator json) throws IOException {
    json.writeStartObject();
    if (resource.isPresent()) {
      json.writeFieldName("resource");
      json.writeRawValue(resource.get());
    }
    json.writeObjectFieldStart("response");
    json.writeStringField("status", HttpResponseStatus.valueOf(status).toString());
    write(json, "location", location);
    write(json, "etag", eTag);
    write(json, "lastModified", lastModified);
    if (outcome.isPresent()) {
      json.writeFieldName("outcome");
      json.writeRawValue(outcome.get());
    }
    json.writeEndObject();
    json.writeEndObject();
  }

  private static void write(JsonGenerator json, String name, Optional<String> value)
      throws IOException {
    if (value.isPresent()) {
      json.writeStringField(name, value.get());
    }
  }
}
