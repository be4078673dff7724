package indwell.port;

/**
 * Nobody gets a connection to the database at this moment, and whoever asks would wait for long;
 * the same call may succeed later.
 */
public final class StoreCrowded extends StoreUnavailable {
  private static final long serialVersionUID = 1L;

  /** The cause is kept for the log; its message must not reach a caller. */
  public StoreCrowded(Throwable cause) {
    super("Nobody gets a connection to the store.", cause);
  }
}
