package indwell.port;

/** The store cannot be reached or cannot write now; the same call may succeed later. */
public class StoreUnavailable extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /** The cause is kept for the log; its message must not reach a caller. */
  public StoreUnavailable(String what, Throwable cause) {
    super(what, cause);
  }
}
