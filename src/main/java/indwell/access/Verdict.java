package indwell.access;

/** What was decided about a request. */
public sealed interface Verdict {
  /** It may go on. */
  record Allowed() implements Verdict {}

  /**
   * Nobody knows who asks.
   *
   * @param doubt why
   */
  record Unknown(Doubt doubt) implements Verdict {}

  /**
   * It is known who asks, and that is not enough.
   *
   * @param wanted the scope that would be needed, or the roles of which one is
   * @param role whether it is a role
   * @param patientScopes whether scopes for one patient were given, which give nothing here
   */
  record Lacking(String wanted, boolean role, boolean patientScopes) implements Verdict {}

  /** Whether it may go on. */
  default boolean allowed() {
    return this instanceof Allowed;
  }
}
