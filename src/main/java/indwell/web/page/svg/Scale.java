package indwell.web.page.svg;

/**
 * Where values lie in a drawing.
 *
 * @param low value at the beginning
 * @param high value at the end; above it
 * @param begin place of the lowest value
 * @param end place of the highest value; before the beginning where the axis goes upwards
 */
public record Scale(double low, double high, double begin, double end) {
  public Scale {
    if (!(high > low)) {
      throw new IllegalArgumentException("No scale from " + low + " to " + high);
    }
  }

  /** The place of a value; one beyond the ends lies at the end. */
  public double at(double value) {
    double within = Math.min(high, Math.max(low, value));
    return begin + (within - low) / (high - low) * (end - begin);
  }
}
