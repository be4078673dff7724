package indwell.faults;

import java.util.EnumSet;
import java.util.Set;

/** Where the process can be made to end. */
enum Point {
  /** An event was read and nothing was done yet. */
  READ,
  /** A resource of it is being validated. */
  VALIDATING,
  /** All of it is written and nothing of it is committed. */
  BEFORE_COMMIT,
  /** It is committed and nobody was told. */
  AFTER_COMMIT,
  /** A resource is about to be sent to the hospital. */
  BEFORE_SENDING,
  /** The hospital has taken it and that is not noted here. */
  SENT,
  /** The rows of answers are written and not committed, and nobody was answered. */
  BEFORE_ROW,
  /** They are committed and nobody was answered. */
  AFTER_ROW;

  /** Those that are reached when nothing is published. */
  static Set<Point> ofIntake() {
    return EnumSet.range(READ, AFTER_COMMIT);
  }

  /** Those that are reached by the publisher alone. */
  static Set<Point> ofPublishing() {
    return EnumSet.of(BEFORE_SENDING, SENT);
  }

  /** Those that are reached by whoever reads. */
  static Set<Point> ofAnswers() {
    return EnumSet.of(BEFORE_ROW, AFTER_ROW);
  }
}
