package indwell.boot.cli;

import indwell.intake.EventBodies;
import indwell.intake.EventBody;
import indwell.intake.EventResult;
import indwell.intake.LineSplitter;
import indwell.intake.Reading;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.BiConsumer;
import java.util.function.Consumer;

/** Reads events from files: JSON (an object or an array) or NDJSON. */
final class EventFiles {
  private final Instant now;
  private final Consumer<Found> take;

  /**
   * One event and where it stands.
   *
   * @param where file and place in it, from 1
   */
  record Found(String where, Reading reading) {}

  EventFiles(Instant now, Consumer<Found> take) {
    this.now = now;
    this.take = take;
  }

  /** Reads one file; what it holds that is no event is handed on as refused. */
  void read(Path file) {
    if (InputFiles.isNdjson(file)) {
      lines(file);
      return;
    }
    EventBody body = EventBodies.read(InputFiles.bytes(file), now);
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

  private void lines(Path file) {
    AtomicInteger place = new AtomicInteger();
    LineSplitter splitter =
        new LineSplitter(
            EventBodies.MAX_EVENT_BYTES,
            line ->
                take.accept(
                    new Found(
                        file + ":" + place.incrementAndGet(),
                        line.bytes()
                            .map(bytes -> EventBodies.line(bytes, now))
                            .orElseGet(EventBodies::tooLargeLine))));
    InputFiles.pieces(file, splitter::feed);
    splitter.finish();
  }
}
