package indwell.adapter.store.jdbc;

/** Another transaction got in the way; the transaction is run again, a few times at most. */
final class Contention extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final RuntimeException lasting;

  /**
   * @param lasting what is thrown instead when running it again does not help
   */
  Contention(RuntimeException lasting) {
    super(lasting);
    this.lasting = lasting;
  }

  RuntimeException lasting() {
    return lasting;
  }
}
