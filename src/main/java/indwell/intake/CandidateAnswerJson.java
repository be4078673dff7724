package indwell.intake;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import indwell.domain.candidate.Assessment;
import indwell.domain.candidate.CandidateAnswer;
import indwell.domain.candidate.PostoperativeRemoval;
import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import indwell.domain.timeline.Remark;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.EnumSet;
import java.util.Set;

/** Writes what is said about candidates as JSON; what is not known has no field. */
public final class CandidateAnswerJson {
  private static final JsonFactory JSON = new JsonFactory();

  private final JsonGenerator json;
  private final Set<RuleId> named = EnumSet.noneOf(RuleId.class);

  private CandidateAnswerJson(JsonGenerator json) {
    this.json = json;
  }

  /** The answer as an object. */
  public static byte[] object(CandidateAnswer answer) {
    ByteArrayOutputStream out = new ByteArrayOutputStream(8192);
    try (JsonGenerator json = JSON.createGenerator(out)) {
      new CandidateAnswerJson(json).write(answer);
    } catch (IOException e) {
      throw new UncheckedIOException("Writing to memory cannot fail", e);
    }
    return out.toByteArray();
  }

  private void write(CandidateAnswer answer) throws IOException {
    json.writeStartObject();
    json.writeStringField("caution", CandidateAnswer.CAUTION);
    json.writeObjectFieldStart("patient");
    json.writeStringField("system", answer.patient().system());
    json.writeStringField("value", answer.patient().value());
    json.writeEndObject();
    json.writeStringField("zone", answer.zone().getId());
    json.writeArrayFieldStart("cultures");
    AssessmentJson cultures = new AssessmentJson(json, this::trace);
    for (Assessment assessment : answer.assessments()) {
      assessment.criteria().forEach(criterion -> named.add(criterion.rule()));
      cultures.write(assessment);
    }
    json.writeEndArray();
    if (answer.removal().isPresent()) {
      write(answer.removal().get());
    }
    json.writeArrayFieldStart("remarks");
    for (Remark remark : answer.remarks()) {
      write(remark);
    }
    json.writeEndArray();
    writeRules();
    json.writeEndObject();
  }

  private void write(PostoperativeRemoval removal) throws IOException {
    json.writeObjectFieldStart("postoperativeRemoval");
    json.writeStringField("result", removal.result().code());
    if (removal.removedOn().isPresent()) {
      json.writeStringField("removedOn", removal.removedOn().get().toString());
    }
    if (removal.day().isPresent()) {
      json.writeNumberField("postoperativeDay", removal.day().getAsInt());
    }
    trace(removal.trace());
    json.writeEndObject();
  }

  private void write(Remark remark) throws IOException {
    json.writeStartObject();
    json.writeStringField("code", remark.code().code());
    json.writeStringField("diagnostics", remark.sentence());
    json.writeArrayFieldStart("events");
    for (EventKey event : remark.events()) {
      json.writeString(event.token());
    }
    json.writeEndArray();
    json.writeEndObject();
  }

  /** Fields of an object that has been begun. */
  private void trace(Trace trace) throws IOException {
    named.add(trace.rule());
    json.writeStringField("rule", trace.rule().id());
    json.writeStringField("finding", trace.finding());
    json.writeArrayFieldStart("events");
    for (BedsideEvent event : trace.facts()) {
      json.writeString(event.key().token());
    }
    json.writeEndArray();
  }

  /** The source of every rule that the answer names, once. */
  private void writeRules() throws IOException {
    json.writeArrayFieldStart("rules");
    for (RuleId rule : named) {
      json.writeStartObject();
      json.writeStringField("rule", rule.id());
      json.writeStringField("source", rule.source());
      json.writeEndObject();
    }
    json.writeEndArray();
  }
}
