package indwell.usecase.transaction;

/** Is told what became of Bundles, by whoever answers them; must neither wait nor throw. */
@FunctionalInterface
public interface BundleWatch {
  /** Nobody watches. */
  BundleWatch NOBODY = (kind, outcome) -> {};

  /** A Bundle is answered. */
  void answered(Kind kind, Outcome outcome);

  /** What was sent. */
  enum Kind {
    TRANSACTION,
    BATCH,
    /** What could not be read as either. */
    UNREAD
  }

  /** What became of it. */
  enum Outcome {
    /** All of it was done; of a batch, each entry is answered by itself, whatever became of it. */
    DONE,
    /** Nothing of it was done, for what it says. */
    REFUSED,
    /** Nothing of it was done, for what the service or its store could not do. */
    FAILED
  }
}
