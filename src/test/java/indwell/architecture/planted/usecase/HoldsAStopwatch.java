package indwell.architecture.planted.usecase;

import java.util.function.LongSupplier;

/** Planted: a use case that measures by itself how long it takes, and one that hands the way on. */
public final class HoldsAStopwatch {

  public long begun() {
    return System.nanoTime();
  }

  public LongSupplier handedOn() {
    return System::nanoTime;
  }
}
