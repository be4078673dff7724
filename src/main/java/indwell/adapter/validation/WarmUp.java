package indwell.adapter.validation;

import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

/** Validates one sample of each profile, again and again, in as many threads as there are slots. */
final class WarmUp {
  /**
   * Each further round makes a validation faster still, for a minute or so, but a start costs more
   * than it gains: by now every definition is prepared, which is nearly all of a first validation.
   */
  private static final int ROUNDS = 2;

  private WarmUp() {}

  static void run(List<String> profiles, ProfileValidator validator, int slots) {
    List<byte[]> samples = profiles.stream().map(WarmUp::sample).toList();
    // One thread first: the definitions that all slots share are prepared by it alone.
    once(samples, validator);
    ExecutorService threads = Executors.newFixedThreadPool(slots);
    try {
      List<Future<?>> running = new ArrayList<>();
      for (int i = 0; i < slots; i++) {
        running.add(threads.submit(() -> rounds(samples, validator)));
      }
      for (Future<?> one : running) {
        one.get();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("Interrupted while warming up the validator.", e);
    } catch (ExecutionException e) {
      throw new IllegalStateException("The validator failed while it was warmed up.", e.getCause());
    } finally {
      threads.shutdownNow();
    }
  }

  private static void rounds(List<byte[]> samples, ProfileValidator validator) {
    for (int round = 0; round < ROUNDS; round++) {
      once(samples, validator);
    }
  }

  private static void once(List<byte[]> samples, ProfileValidator validator) {
    for (byte[] sample : samples) {
      for (Finding finding : validator.validate(sample)) {
        if (finding.isError()) {
          throw new IllegalStateException("A sample is not valid: " + finding.line());
        }
      }
    }
  }

  private static byte[] sample(String profile) {
    String name = "/fhir-profiles/cases/valid/" + profile + ".json";
    try (InputStream in = WarmUp.class.getResourceAsStream(name)) {
      if (in == null) {
        throw new IllegalStateException("The class path lacks " + name + ".");
      }
      return in.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
