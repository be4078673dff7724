package indwell.architecture.planted.usecase;

import jakarta.enterprise.inject.Produces;

/** Planted: a producer outside boot. */
public final class ProducesBeans {

  /** Nothing asks for it. */
  public static final class Unwanted {}

  @Produces
  public Unwanted unwanted() {
    return new Unwanted();
  }
}
