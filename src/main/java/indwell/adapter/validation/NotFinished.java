package indwell.adapter.validation;

/** The library failed on a resource instead of judging it; the cause is what it threw. */
final class NotFinished extends RuntimeException {
  private static final long serialVersionUID = 1L;

  NotFinished(Throwable cause) {
    super(cause);
  }
}
