package indwell.intake;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.databind.util.RawValue;
import indwell.domain.event.EventType;
import indwell.domain.refusal.Issue;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;

/** Events of every type with every field filled in, and ways to change one field of them. */
final class Samples {
  static final Instant NOW = Instant.parse("2026-03-01T12:00:00Z");

  private static final ObjectMapper MAPPER = new ObjectMapper();

  private static final String PLACING =
      """
      {"catheterId":"c2","route":"urethral","drainage":"bag","sizeCh":14,
       "balloonLabelMl":10,"balloonFilledMl":10,"material":"silicone","lumens":2,
       "lotNumber":"L1","udi":"U1","maxDwellDays":28,"indication":"perioperative",
       "indicationText":"hip","surgeryEndedAt":"2026-03-01T07:00:00Z","urineReturnedMl":300,
       "specimenTaken":false,"attempts":1,"insertedBeforeAdmission":false,
       "steps":{"hand-hygiene":"done","lubricant":"not-done"}}""";

  private Samples() {}

  static String detailsOf(EventType type) {
    return switch (type) {
      case PATIENT_ADMITTED, PATIENT_TRANSFERRED -> "{\"ward\":\"W1\",\"inpatient\":true}";
      case PATIENT_DISCHARGED -> "{\"withCatheter\":true}";
      case CATHETER_INSERTED -> PLACING;
      case CATHETER_REMOVED -> "{\"catheterId\":\"c1\",\"reason\":\"no longer needed\"}";
      case CATHETER_EXCHANGED -> "{\"catheterId\":\"c1\",\"replacement\":" + PLACING + "}";
      case NEED_REVIEWED ->
          "{\"catheterId\":\"c1\",\"stillNeeded\":true,\"indication\":\"other\","
              + "\"indicationText\":\"see notes\"}";
      case SECUREMENT_CHANGED -> "{\"catheterId\":\"c1\",\"site\":\"left thigh\"}";
      case CARE_CHECKED ->
          "{\"catheterId\":\"c1\",\"items\":{\"bag-off-floor\":true,\"closed-system\":false}}";
      case URINE_MEASURED ->
          "{\"volumeMl\":250.5,\"from\":\"2026-03-01T06:00:00Z\",\"catheterId\":\"c1\"}";
      case SPECIMEN_COLLECTED -> "{\"catheterId\":\"c1\",\"purpose\":\"culture\"}";
      case WEIGHT_MEASURED -> "{\"kg\":70.5}";
    };
  }

  /** An event without fault and with every field. */
  static String event(EventType type) {
    return """
        {"source":"tablet","eventId":"e1","version":1,"status":"final","type":"%s",
         "occurredAt":"2026-03-01T08:00:00Z",
         "patient":{"system":"urn:oid:1.2.3","value":"p1"},
         "encounter":{"system":"urn:oid:1.2.4","value":"s1"},
         "recorder":{"system":"urn:oid:1.2.5","value":"n1"},
         "details":%s}"""
        .formatted(type.code(), detailsOf(type));
  }

  /** The event with the field at a dotted path set to the JSON text given. */
  static String with(String event, String path, String json) {
    ObjectNode root = (ObjectNode) tree(event);
    parent(root, path).putRawValue(lastOf(path), new RawValue(json));
    return root.toString();
  }

  /** The event without the field at a dotted path. */
  static String without(String event, String path) {
    ObjectNode root = (ObjectNode) tree(event);
    parent(root, path).remove(lastOf(path));
    return root.toString();
  }

  static Reading read(String event) {
    return EventBodies.line(event.getBytes(StandardCharsets.UTF_8), NOW);
  }

  static Reading.Accepted accept(String event) {
    Reading reading = read(event);
    if (reading instanceof Reading.Accepted accepted) {
      return accepted;
    }
    throw new AssertionError("Refused: " + reading);
  }

  static Reading.Refused refuse(String event) {
    Reading reading = read(event);
    if (reading instanceof Reading.Refused refused) {
      return refused;
    }
    throw new AssertionError("Accepted: " + event);
  }

  /** The issues as {@code CODE expression}. */
  static List<String> faultsOf(String event) {
    return refuse(event).issues().stream().map(Samples::shortly).toList();
  }

  static String shortly(Issue issue) {
    return issue.code().code() + " " + issue.expression();
  }

  static JsonNode tree(String json) {
    try {
      return MAPPER.readTree(json);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static ObjectNode parent(ObjectNode root, String path) {
    int dot = path.lastIndexOf('.');
    return dot < 0 ? root : (ObjectNode) root.at("/" + path.substring(0, dot).replace('.', '/'));
  }

  private static String lastOf(String path) {
    return path.substring(path.lastIndexOf('.') + 1);
  }
}
