package indwell.intake;

/** What stands in a tree where there is no value to read. */
public enum JsonMarker {
  /** JSON's own {@code null}. */
  NULL,
  /** The name stood more than once in its object. */
  NAMED_TWICE,
  /** A number with too many digits or too large an exponent. */
  ABSURD_NUMBER,
  /** A container below the deepest level that is read. */
  TOO_DEEP,
  /** A string or an element beyond its limit. */
  TOO_LARGE
}
