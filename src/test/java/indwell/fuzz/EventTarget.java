package indwell.fuzz;

import indwell.intake.EventBodies;
import indwell.intake.EventBody;
import indwell.intake.EventReader;
import indwell.intake.EventResult;
import indwell.intake.EventResultJson;
import indwell.intake.Reading;
import java.nio.charset.StandardCharsets;
import java.time.Instant;

/** Bodies of {@code POST /events}, and lines of its streams. */
final class EventTarget implements Target {
  private static final Instant NOW = Instant.parse("2026-03-10T12:00:00Z");

  @Override
  public void take(byte[] input) {
    EventBody body = EventBodies.read(input, NOW);
    if (body instanceof EventBody.Rejected rejected) {
      Oracle.refused(rejected.status(), rejected.result().issues());
    } else if (body instanceof EventBody.Batch batch) {
      batch.readings().forEach(EventTarget::read);
    } else {
      read(((EventBody.Single) body).reading());
    }
    read(EventBodies.line(input, NOW));
  }

  private static void read(Reading reading) {
    if (reading instanceof Reading.Refused refused) {
      EventResult result = EventResult.of(refused);
      Oracle.refused(result.status(), result.issues());
      Oracle.require(EventResultJson.object(result).length > 0, "No answer");
      return;
    }
    Reading.Accepted accepted = (Reading.Accepted) reading;
    byte[] canonical = accepted.canonical().getBytes(StandardCharsets.UTF_8);
    Oracle.require(
        EventBodies.line(canonical, NOW).equals(accepted),
        "Read again, it is another event: " + accepted.canonical());
    Oracle.require(
        EventReader.fromCanonical(accepted.canonical()).equals(accepted.version()),
        "Read back, it is another event: " + accepted.canonical());
  }
}
