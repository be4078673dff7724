package indwell.fhir.search;

/** One thing that a resource can be found by: a value of one of its search parameters. */
public sealed interface SearchValue permits SearchValue.Coded, SearchValue.Dated {
  /** Name of the search parameter, {@code code}. */
  String parameter();

  /**
   * A code, a reference or a name.
   *
   * @param system of a code; empty where there is none
   * @param value the code, the relative reference {@code Device/abc}, or the name in lower case
   */
  record Coded(String parameter, String system, String value) implements SearchValue {}

  /**
   * A time with its precision, or a stretch of time.
   *
   * @param low first millisecond since 1970 UTC, inclusive; {@link Long#MIN_VALUE} without a start
   * @param high the millisecond after the last; {@link Long#MAX_VALUE} without an end
   */
  record Dated(String parameter, long low, long high) implements SearchValue {}
}
