package indwell.intake;

import com.fasterxml.jackson.core.JsonGenerator;
import indwell.domain.candidate.Assessment;
import indwell.domain.candidate.CriterionResult;
import indwell.domain.candidate.DateRange;
import indwell.domain.candidate.Element;
import indwell.domain.candidate.Organism;
import indwell.domain.candidate.Outcome.Added;
import indwell.domain.candidate.Outcome.Met;
import indwell.domain.candidate.Outcome.NewCandidate;
import indwell.domain.candidate.Outcome.SecondaryBlood;
import indwell.domain.rule.Trace;
import indwell.domain.timeline.CatheterDay;
import java.io.IOException;
import java.util.List;

/** Writes what is said about one urine culture. */
final class AssessmentJson {
  private final JsonGenerator json;
  private final TraceFields traces;

  /**
   * Writes with that generator.
   *
   * @param traces writes rule, finding and events into an object that has been begun
   */
  AssessmentJson(JsonGenerator json, TraceFields traces) {
    this.json = json;
    this.traces = traces;
  }

  /** Writes the fields of a trace. */
  @FunctionalInterface
  interface TraceFields {
    void write(Trace trace) throws IOException;
  }

  void write(Assessment said) throws IOException {
    json.writeStartObject();
    json.writeStringField("collectedOn", said.culture().collectedOn().toString());
    if (said.outcome() instanceof NewCandidate candidate) {
      json.writeStringField("result", "candidate");
      met(candidate);
      candidate(candidate);
    } else if (said.outcome() instanceof Added added) {
      json.writeStringField("result", "added-to-earlier-event");
      met(added);
      added(added);
    } else {
      json.writeStringField("result", "no-criterion");
    }
    range("window", said.window());
    json.writeArrayFieldStart("criteria");
    for (CriterionResult result : said.criteria()) {
      criterion(result);
    }
    json.writeEndArray();
    json.writeArrayFieldStart("trace");
    for (Trace trace : said.traces()) {
      json.writeStartObject();
      traces.write(trace);
      json.writeEndObject();
    }
    json.writeEndArray();
    json.writeEndObject();
  }

  private void met(Met met) throws IOException {
    json.writeStringField("criterion", met.criterion().code());
    json.writeStringField("firstElementOn", met.dateOfEvent().firstElement().toString());
    json.writeStringField("dateOfEvent", met.dateOfEvent().date().toString());
    json.writeStringField("onset", met.onset().code());
    if (met.hospitalDay().isPresent()) {
      json.writeNumberField("hospitalDay", met.hospitalDay().get().value());
    }
    if (met.day().isPresent()) {
      day(met.day().get());
    }
  }

  private void day(CatheterDay day) throws IOException {
    if (day.number().isPresent()) {
      json.writeNumberField("catheterDay", day.number().get().value());
    }
    json.writeBooleanField("catheterPresent", day.catheterPresent());
    json.writeBooleanField("eligible", day.eligible());
  }

  private void candidate(NewCandidate candidate) throws IOException {
    json.writeBooleanField("catheterAssociated", candidate.catheterAssociated());
    if (candidate.ward().isPresent()) {
      json.writeStringField("ward", candidate.ward().get().code());
    }
    range("timeframe", candidate.timeframe());
    range("attributionPeriod", candidate.attributionPeriod());
    organisms("organisms", candidate.organisms());
    json.writeArrayFieldStart("secondaryBlood");
    for (SecondaryBlood blood : candidate.secondaryBlood()) {
      json.writeStartObject();
      json.writeStringField("collectedOn", blood.collectedOn().toString());
      organisms("organisms", blood.organisms());
      json.writeEndObject();
    }
    json.writeEndArray();
  }

  private void added(Added added) throws IOException {
    json.writeStringField("earlierDateOfEvent", added.to().dateOfEvent().toString());
    range("timeframe", added.timeframe());
    organisms("addedOrganisms", added.organisms());
  }

  private void criterion(CriterionResult result) throws IOException {
    json.writeStartObject();
    json.writeStringField("criterion", result.criterion().code());
    json.writeStringField("rule", result.rule().id());
    json.writeBooleanField("met", result.met());
    json.writeArrayFieldStart("elements");
    for (Element element : result.elements()) {
      json.writeStartObject();
      json.writeStringField("element", element.kind().code());
      json.writeBooleanField("met", element.met());
      if (element.on().isPresent()) {
        json.writeStringField("on", element.on().get().toString());
      }
      traces.write(element.trace());
      json.writeEndObject();
    }
    json.writeEndArray();
    json.writeEndObject();
  }

  private void organisms(String name, List<Organism> organisms) throws IOException {
    json.writeArrayFieldStart(name);
    for (Organism organism : organisms) {
      json.writeString(organism.name());
    }
    json.writeEndArray();
  }

  private void range(String name, DateRange range) throws IOException {
    json.writeObjectFieldStart(name);
    json.writeStringField("start", range.start().toString());
    json.writeStringField("end", range.endInclusive().toString());
    json.writeEndObject();
  }
}
