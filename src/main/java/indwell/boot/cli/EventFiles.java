package indwell.boot.cli;

import indwell.intake.EventBodies;
import indwell.intake.EventBody;
import indwell.intake.EventResult;
import indwell.intake.LineSplitter.Line;
import indwell.intake.Reading;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.function.BiConsumer;
import java.util.function.Consumer;

/** Reads events from files: JSON (an object or an array) or NDJSON. */
final class EventFiles {
  private final Instant now;
  private final Consumer<Found> take;

  /**
   * One event and where it stands.
   *
   * @param where file and place in it, from 1: of an array the element, of NDJSON the line
   */
  record Found(String where, Reading reading) {}

  EventFiles(Instant now, Consumer<Found> take) {
    this.now = now;
    this.take = take;
  }

  /**
   * Reads one file; what it holds that is no event is handed on as refused.
   *
   * @throws UnusablePath if it cannot be read
   */
  void read(Path file) {
    try {
      new JsonFile(
              file,
              EventBodies.MAX_ARRAY_BYTES,
              EventBodies.MAX_EVENT_BYTES,
              whole -> document(file, whole),
              line -> line(file, line))
          .read();
    } catch (IOException failure) {
      throw new UnusablePath("Cannot read " + file + ".", failure);
    }
  }

  private void document(Path file, byte[] whole) {
    EventBody body = EventBodies.read(whole, now);
    BiConsumer<Integer, Reading> found =
        (place, reading) -> take.accept(new Found(file + ":" + place, reading));
    if (body instanceof EventBody.Single single) {
      found.accept(1, single.reading());
    } else if (body instanceof EventBody.Batch batch) {
      List<Reading> readings = batch.readings();
      for (int i = 0; i < readings.size(); i++) {
        found.accept(i + 1, readings.get(i));
      }
    } else {
      EventResult refused = ((EventBody.Rejected) body).result();
      found.accept(
          1,
          new Reading.Refused(
              refused.source(), refused.eventId(), refused.version(), refused.issues()));
    }
  }

  private void line(Path file, Line line) {
    Reading reading =
        line.bytes()
            .map(bytes -> EventBodies.line(bytes, now))
            .orElseGet(EventBodies::tooLargeLine);
    take.accept(new Found(file + ":" + line.number(), reading));
  }
}
