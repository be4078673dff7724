package indwell.intake;

/**
 * How much a body may ask of its reader.
 *
 * @param maxDepth containers inside one another, the outermost counted; deeper ones are found and
 *     left out of the tree
 * @param stopDepth as {@code maxDepth}, but reading stops there and the body is refused whole
 * @param maxStringLength UTF-16 units of one string or name
 * @param maxElements elements of an array that is the whole body
 * @param maxElementBytes bytes of one element of such an array
 */
public record GateLimits(
    int maxDepth, int stopDepth, int maxStringLength, int maxElements, int maxElementBytes) {
  public GateLimits {
    if (maxDepth < 1 || stopDepth < maxDepth) {
      throw new IllegalArgumentException("stopDepth must not be below maxDepth, nor that below 1");
    }
  }

  /** Limits for a body that is taken or refused whole, as a FHIR resource is. */
  public static GateLimits forOneDocument(int maxDepth, int maxStringLength) {
    return new GateLimits(
        maxDepth, maxDepth, maxStringLength, Integer.MAX_VALUE, Integer.MAX_VALUE);
  }
}
