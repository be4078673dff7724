package indwell.boot.cli;

/** A path that is not there or cannot be read; the message names it. */
final class UnusablePath extends RuntimeException {
  private static final long serialVersionUID = 1L;

  UnusablePath(String message, Throwable cause) {
    super(message, cause);
  }

  UnusablePath(String message) {
    super(message);
  }
}
