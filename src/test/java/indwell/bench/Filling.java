package indwell.bench;

import indwell.contract.Satisfied;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.usecase.Received;
import indwell.usecase.RecordEvents;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Fills a store with a history. Nothing is validated: how fast one comes in is another question.
 */
final class Filling {
  private static final int CLIENTS = 2;

  /** Episodes of one transaction. */
  private static final int PART = 10;

  private Filling() {}

  /** Episodes from one number up to another, exclusive. */
  static void fill(ClinicalStore store, int from, int to) {
    fill(store, from, to, Instant.now());
  }

  /** The same, received at one time. */
  static void fill(ClinicalStore store, int from, int to, Instant received) {
    RecordEvents intake =
        new RecordEvents(store, new Satisfied(), new MappingContext(ZoneOffset.UTC));
    List<Integer> parts =
        IntStream.iterate(from, part -> part < to, part -> part + PART).boxed().toList();
    Parallel.each(
        CLIENTS,
        parts,
        first -> record(intake, House.events(first, Math.min(PART, to - first)), received));
  }

  private static void record(RecordEvents intake, List<byte[]> events, Instant now) {
    List<Received> all =
        events.stream().map(event -> new Received(EventBodies.line(event, now), now)).toList();
    for (EventResult result : intake.record(all)) {
      if (result.outcome() != Outcome.RECORDED) {
        throw new IllegalStateException("An event was " + result.outcome());
      }
    }
  }
}
