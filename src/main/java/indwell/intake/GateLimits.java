package indwell.intake;

/**
 * How much a body may ask of its reader.
 *
 * @param maxDepth containers inside one another, the outermost counted; deeper ones are found and
 *     left out of the tree
 * @param stopDepth as {@code maxDepth}, but reading stops there and the body is refused whole
 * @param maxStringLength UTF-16 units of one string
 * @param maxNameLength the same of one name
 * @param asFhir whether texts must be such as can be stored and sent on unchanged, and narratives
 *     such as are read in little time ({@link FhirText})
 * @param maxElements elements of an array that is the whole body
 * @param maxElementBytes bytes of one element of such an array
 */
public record GateLimits(
    int maxDepth,
    int stopDepth,
    int maxStringLength,
    int maxNameLength,
    int maxElements,
    int maxElementBytes,
    boolean asFhir) {
  /** No element of FHIR has a longer name; a library that reads on behind the gate has limits. */
  private static final int MAX_NAME_OF_FHIR = 1_000;

  public GateLimits {
    if (maxDepth < 1 || stopDepth < maxDepth) {
      throw new IllegalArgumentException("stopDepth must not be below maxDepth, nor that below 1");
    }
  }

  /** Limits for what looks at each of its texts itself. */
  GateLimits(
      int maxDepth, int stopDepth, int maxStringLength, int maxElements, int maxElementBytes) {
    this(
        maxDepth, stopDepth, maxStringLength, maxStringLength, maxElements, maxElementBytes, false);
  }

  /** Limits for a FHIR resource, which is taken or refused whole. */
  public static GateLimits forOneDocument(int maxDepth, int maxStringLength) {
    return new GateLimits(
        maxDepth,
        maxDepth,
        maxStringLength,
        Math.min(MAX_NAME_OF_FHIR, maxStringLength),
        Integer.MAX_VALUE,
        Integer.MAX_VALUE,
        true);
  }
}
