package indwell.boot;

import indwell.adapter.validation.HapiProfileValidator;
import indwell.port.ProfileValidator;
import indwell.usecase.Defects;
import java.lang.System.Logger;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.function.Supplier;

/**
 * A validator that is made in the background, because making one takes seconds. Whoever asks before
 * it is ready waits; readiness stays red until then.
 */
final class WarmingValidator implements ProfileValidator {
  private static final Logger LOG = System.getLogger(WarmingValidator.class.getName());

  private final CompletableFuture<ProfileValidator> warm = new CompletableFuture<>();

  /** Starts at once on a thread of its own. */
  WarmingValidator(Supplier<HapiProfileValidator> make) {
    Thread warming = new Thread(() -> warm(make), "validator-warm-up");
    warming.setDaemon(true);
    warming.start();
  }

  /** Made with the first call, by whoever needs it or knows that somebody will. */
  private static final class OfThisProcess {
    static final WarmingValidator ONE = new WarmingValidator(Validators::warm);
  }

  /**
   * The one of this process. Called before all else, it is prepared beside the rest of the start
   * instead of after it.
   */
  static WarmingValidator ofThisProcess() {
    return OfThisProcess.ONE;
  }

  private void warm(Supplier<HapiProfileValidator> make) {
    HapiProfileValidator made;
    try {
      made = make.get();
    } catch (RuntimeException | Error failure) {
      Defects.log(LOG, "The validator could not be made; no event is taken", failure);
      warm.completeExceptionally(failure);
      return;
    }
    warm.complete(made);
    made.exercise();
  }

  @Override
  public List<Finding> validate(byte[] json, List<String> profiles) {
    return warm.join().validate(json, profiles);
  }

  @Override
  public boolean knows(String profile) {
    return warm.join().knows(profile);
  }

  @Override
  public boolean ready() {
    return warm.isDone() && !warm.isCompletedExceptionally();
  }
}
