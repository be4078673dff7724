package indwell.architecture.planted.usecase;

import java.time.Instant;

/** Planted: a use case that reads the wall clock. */
public final class AsksTheMachine {

  public Instant when() {
    return Instant.now();
  }
}
