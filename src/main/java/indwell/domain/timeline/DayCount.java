package indwell.domain.timeline;

/**
 * Patient days and catheter days: counts, not ordinals.
 *
 * @param patientDays patients present at the count time
 * @param catheterDays those of them with a catheter that counts
 */
public record DayCount(long patientDays, long catheterDays) {

  /** Nobody. */
  public static final DayCount NONE = new DayCount(0, 0);

  public DayCount {
    if (catheterDays < 0 || catheterDays > patientDays) {
      throw new IllegalArgumentException(
          "Catheter days " + catheterDays + " are not within 0 and patient days " + patientDays);
    }
  }

  /** Both sums. */
  public DayCount plus(DayCount other) {
    return new DayCount(patientDays + other.patientDays, catheterDays + other.catheterDays);
  }
}
