package indwell.bench;

import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.usecase.RecordEvents;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Fills a store with a history. Nothing is validated: how fast one comes in is another question.
 */
final class Filling {
  private static final int CLIENTS = 4;

  private Filling() {}

  /** Episodes from one number up to another, exclusive. */
  static void fill(ClinicalStore store, int from, int to) {
    RecordEvents intake =
        new RecordEvents(store, new Agreeing(), new MappingContext(ZoneOffset.UTC));
    Parallel.each(
        CLIENTS,
        IntStream.range(from, to).boxed().toList(),
        episode -> House.events(episode, 1).forEach(event -> record(intake, event)));
  }

  private static void record(RecordEvents intake, byte[] event) {
    Instant now = Instant.now();
    Outcome outcome = intake.record(EventBodies.line(event, now), now).outcome();
    if (outcome != Outcome.RECORDED) {
      throw new IllegalStateException("An event was " + outcome);
    }
  }

  private static final class Agreeing implements ProfileValidator {
    @Override
    public List<Finding> validate(byte[] json, List<String> profiles) {
      return List.of();
    }

    @Override
    public boolean knows(String profile) {
      return true;
    }
  }
}
