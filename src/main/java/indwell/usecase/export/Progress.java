package indwell.usecase.export;

/** How far a run is, and whether it is still wanted; written by one thread and read by others. */
public final class Progress {
  private final int types;
  private volatile int typesDone;
  private volatile long resources;
  private volatile boolean unwanted;

  Progress(int types) {
    this.types = types;
  }

  /** The run was ended from outside. */
  static final class Stopped extends RuntimeException {
    private static final long serialVersionUID = 1L;

    Stopped() {
      super(null, null, false, false);
    }
  }

  // Only the thread of the run writes the counts.
  @SuppressWarnings("NonAtomicVolatileUpdate")
  void written() {
    resources++;
  }

  @SuppressWarnings("NonAtomicVolatileUpdate")
  void typeDone() {
    typesDone++;
  }

  void stop() {
    unwanted = true;
  }

  /**
   * Goes on, or not.
   *
   * @throws Stopped after {@link #stop}
   */
  void requireWanted() {
    if (unwanted) {
      throw new Stopped();
    }
  }

  /** For people, in fewer than 100 characters. */
  public String text() {
    return typesDone + " of " + types + " resource types, " + resources + " resources";
  }
}
