package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.usecase.RandomBodies;
import indwell.usecase.RecordEvents;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;

/** Resources as the intake writes them, all versions, from random histories. */
public final class Written {
  private static final Instant NOW = RandomBodies.START.plus(Duration.ofDays(20));

  private Written() {}

  /** At least so many of them, of as many histories as that takes. */
  public static List<byte[]> atLeast(int resources) {
    Listening listening = new Listening();
    for (long seed = 1; listening.heard.size() < resources; seed++) {
      record(listening, seed);
    }
    return listening.heard;
  }

  private static void record(Listening listening, long seed) {
    try (ClinicalStore store = new MemoryStore()) {
      RecordEvents intake =
          new RecordEvents(store, listening, new MappingContext(ZoneId.of("Europe/Berlin")));
      for (String body : new RandomBodies(seed).bodies()) {
        byte[] bytes = body.replace("\n", " ").getBytes(StandardCharsets.UTF_8);
        Instant now = NOW.plusMillis(37L * listening.heard.size());
        assertThat(intake.record(EventBodies.line(bytes, now), now).outcome())
            .isNotIn(Outcome.REFUSED, Outcome.FAILED);
      }
    }
  }

  /** Takes down what it is asked to validate. */
  private static final class Listening implements ProfileValidator {
    private final List<byte[]> heard = new ArrayList<>();

    @Override
    public List<Finding> validate(byte[] json, List<String> profiles) {
      heard.add(json);
      return List.of();
    }

    @Override
    public boolean knows(String profile) {
      return true;
    }
  }
}
