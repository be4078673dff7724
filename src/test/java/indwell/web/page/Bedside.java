package indwell.web.page;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/** Events as JSON, for tests of pages. */
public final class Bedside {
  public static final String SYSTEM = "urn:test:mrn";

  private Bedside() {}

  /** An event of a patient; details without their braces. */
  public static String event(String id, String patient, String type, String at, String details) {
    return ("{\"source\":\"t\",\"eventId\":\"%s\",\"type\":\"%s\",\"occurredAt\":\"%s\","
            + "\"patient\":{\"system\":\"%s\",\"value\":%s},"
            + "\"encounter\":{\"system\":\"urn:test:stay\",\"value\":%s},"
            + "\"recorder\":{\"system\":\"urn:test:staff\",\"value\":\"N-1\"},\"details\":{%s}}")
        .formatted(id, type, at, SYSTEM, quoted(patient), quoted("S " + patient), details);
  }

  private static String quoted(String text) {
    return "\"" + text.replace("\\", "\\\\").replace("\"", "\\\"") + "\"";
  }

  /** A patient who was admitted to a ward and got a catheter five minutes later. */
  public static List<String> withCatheter(String patient, String ward, Instant admitted) {
    String id = Integer.toHexString(patient.hashCode());
    List<String> events = new ArrayList<>();
    events.add(
        event(
            id + "-in",
            patient,
            "patient-admitted",
            admitted.toString(),
            "\"ward\":\"" + ward + "\""));
    events.add(
        event(
            id + "-cath",
            patient,
            "catheter-inserted",
            admitted.plusSeconds(300).toString(),
            "\"catheterId\":\"c1\",\"route\":\"urethral\",\"sizeCh\":14,\"balloonLabelMl\":10,"
                + "\"balloonFilledMl\":10,\"indication\":\"acute-retention\""));
    return events;
  }
}
