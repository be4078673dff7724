package indwell.fuzz;

/** One way into the service. */
@FunctionalInterface
interface Target {
  /**
   * Sends the input in.
   *
   * @throws AssertionError when the answer is one that must not be
   */
  void take(byte[] input);
}
