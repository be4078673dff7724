package indwell.usecase;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Histories of a few patients, wards and catheters on a coarse grid of time, so that contradictions
 * and events at one instant are common. Event bodies as callers post them; corrections, withdrawals
 * and moves to another patient among them. The same seed gives the same history.
 */
public final class RandomBodies {
  public static final Instant START = Instant.parse("2026-03-26T00:00:00Z");
  private static final int SLOTS_OF_SIX_HOURS = 48;

  private final Random random;

  public RandomBodies(long seed) {
    this.random = new Random(seed);
  }

  /** Between 10 and 40 event bodies, in the order in which they were thought of. */
  public List<String> bodies() {
    int events = 10 + random.nextInt(30);
    List<String> bodies = new ArrayList<>();
    for (int i = 0; i < events; i++) {
      int versions = random.nextInt(5) == 0 ? 2 + random.nextInt(2) : 1;
      for (int version = 1; version <= versions; version++) {
        bodies.add(body("e" + i, version));
      }
    }
    return bodies;
  }

  private String body(String id, int version) {
    Instant at = START.plus(6L * random.nextInt(SLOTS_OF_SIX_HOURS), ChronoUnit.HOURS);
    boolean withdrawn = version > 1 && random.nextInt(3) == 0;
    String[] typed = typed(at);
    return """
        {"source":"random","eventId":"%s","version":%d,"status":"%s","type":"%s",
         "occurredAt":"%s","patient":{"system":"urn:p","value":"P%d"},
         "encounter":{"system":"urn:s","value":"S%d"},"details":%s}"""
        .formatted(
            id,
            version,
            withdrawn ? "entered-in-error" : "final",
            typed[0],
            at,
            random.nextInt(2),
            random.nextInt(2),
            typed[1]);
  }

  private String[] typed(Instant at) {
    String catheter = "\"catheterId\":\"%s\"".formatted(catheter());
    return switch (random.nextInt(14)) {
      case 0, 1 -> pair("patient-admitted", "{\"ward\":\"%s\"%s}".formatted(ward(), inpatient()));
      case 2 -> pair("patient-transferred", "{\"ward\":\"%s\"%s}".formatted(ward(), inpatient()));
      case 3 -> pair("patient-discharged", random.nextBoolean() ? "{}" : "{\"withCatheter\":true}");
      case 4, 5 -> pair("catheter-inserted", placing(catheter(), at));
      case 6 -> exchange(at);
      case 7 ->
          pair("catheter-removed", "{%s,\"reason\":\"no longer needed\"}".formatted(catheter));
      case 8 -> pair("need-reviewed", review(catheter));
      case 9 -> pair("securement-changed", "{%s,\"site\":\"left thigh\"}".formatted(catheter));
      case 10 ->
          pair(
              "care-checked",
              "{%s,\"items\":{\"closed-system\":true,\"bag-off-floor\":false}}"
                  .formatted(catheter));
      case 11 ->
          pair(
              "urine-measured",
              "{\"volumeMl\":%d,\"from\":\"%s\"}"
                  .formatted(random.nextInt(400), at.minus(6, ChronoUnit.HOURS)));
      case 12 -> pair("weight-measured", "{\"kg\":%d.5}".formatted(40 + random.nextInt(60)));
      default -> pair("specimen-collected", "{%s,\"purpose\":\"culture\"}".formatted(catheter));
    };
  }

  private String[] exchange(Instant at) {
    String old = catheter();
    String replacement = old.equals("C1") ? "C2" : "C1";
    return pair(
        "catheter-exchanged",
        "{\"catheterId\":\"%s\",\"replacement\":%s}".formatted(old, placing(replacement, at)));
  }

  private String review(String catheter) {
    return random.nextBoolean()
        ? "{%s,\"stillNeeded\":true,\"indication\":\"%s\"}".formatted(catheter, indication())
        : "{%s,\"stillNeeded\":false}".formatted(catheter);
  }

  private String placing(String catheter, Instant at) {
    return """
        {"catheterId":"%s","route":"%s","drainage":"%s","sizeCh":%d,"balloonLabelMl":10,
         "balloonFilledMl":%d,"maxDwellDays":%d,"indication":"%s","surgeryEndedAt":"%s",
         "urineReturnedMl":150,"lumens":2,"material":"silicone","attempts":1,
         "steps":{"hand-hygiene":"done","lubricant":"%s"}}"""
        .formatted(
            catheter,
            random.nextInt(4) == 0 ? "suprapubic" : "urethral",
            random.nextInt(5) == 0 ? "none" : "bag",
            6 + random.nextInt(20),
            9 + random.nextInt(3),
            1 + random.nextInt(6),
            indication(),
            at,
            random.nextInt(4) == 0 ? "not-done" : "done");
  }

  private String indication() {
    return random.nextBoolean() ? "perioperative" : "incontinence-care";
  }

  private String catheter() {
    return "C" + random.nextInt(3);
  }

  private String ward() {
    return "ward-" + random.nextInt(3);
  }

  private String inpatient() {
    return random.nextInt(4) == 0 ? ",\"inpatient\":false" : "";
  }

  private static String[] pair(String type, String details) {
    return new String[] {type, details};
  }
}
