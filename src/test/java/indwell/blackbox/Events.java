package indwell.blackbox;

import java.time.Instant;
import java.time.temporal.ChronoUnit;

/** Event bodies as a caller writes them. */
final class Events {
  private Events() {}

  /** Where the insertion is found that an event made. */
  static String whereFound(String id) {
    return "/fhir/Procedure?identifier=https://indwell.example/fhir/event%7Cblackbox:" + id;
  }

  static String event(String id, String type, String at, String details) {
    return """
        {"source":"blackbox","eventId":"%s","type":"%s","occurredAt":"%s",
         "patient":{"system":"https://blackbox.example/patient","value":"P-1"},
         "encounter":{"system":"https://blackbox.example/stay","value":"S-1"},
         "details":%s}"""
        .formatted(id, type, at, details)
        .replace("\n", "");
  }

  static String insertion(String id, String catheter, String at) {
    return event(
        id,
        "catheter-inserted",
        at,
        """
        {"catheterId":"%s","route":"urethral","sizeCh":16,"balloonLabelMl":10,
         "balloonFilledMl":10,"indication":"acute-retention","urineReturnedMl":450,
         "steps":{"hand-hygiene":"done","securement-applied":"done"}}"""
            .formatted(catheter)
            .replace("\n", ""));
  }

  /** An insertion of a patient of its own, an hour ago. */
  static String insertionOfPatient(String id) {
    return insertion(id, "C-" + id, Instant.now().minus(1, ChronoUnit.HOURS).toString())
        .replace("\"P-1\"", "\"P-" + id + "\"")
        .replace("\"S-1\"", "\"S-" + id + "\"");
  }
}
