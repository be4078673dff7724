package indwell.adapter.validation;

import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;

/** Validates one sample of each profile. */
final class WarmUp {
  private final List<byte[]> samples;
  private final ProfileValidator validator;

  WarmUp(List<String> profiles, ProfileValidator validator) {
    this.samples = profiles.stream().map(WarmUp::sample).toList();
    this.validator = validator;
  }

  /**
   * Once, so that every definition is prepared.
   *
   * @throws IllegalStateException if a sample is not valid
   */
  void once() {
    samples.forEach(this::validate);
  }

  /**
   * The same, by so many threads, each of which takes the next sample when it is free.
   *
   * @throws IllegalStateException if a sample is not valid
   */
  void onceBy(int threads) {
    ExecutorService workers = Executors.newFixedThreadPool(threads, WarmUp::thread);
    try {
      CompletableFuture.allOf(
              samples.stream()
                  .map(sample -> CompletableFuture.runAsync(() -> validate(sample), workers))
                  .toArray(CompletableFuture<?>[]::new))
          .join();
    } catch (CompletionException failed) {
      throw failed.getCause() instanceof RuntimeException cause ? cause : failed;
    } finally {
      workers.shutdownNow();
    }
  }

  /** One that does not keep the process from ending. */
  private static Thread thread(Runnable work) {
    Thread thread = new Thread(work, "validator-warm-up");
    thread.setDaemon(true);
    return thread;
  }

  private void validate(byte[] sample) {
    for (Finding finding : validator.validate(sample)) {
      if (finding.isError()) {
        throw new IllegalStateException("A sample is not valid: " + finding.line());
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
