package indwell.faults;

/** Where in the taking of an event the process can be made to end. */
enum Point {
  /** The event was read and nothing was done yet. */
  READ,
  /** A resource of it is being validated. */
  VALIDATING,
  /** All of it is written and nothing of it is committed. */
  BEFORE_COMMIT,
  /** It is committed and nobody was told. */
  AFTER_COMMIT;
}
