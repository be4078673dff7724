package indwell.domain.surveillance;

import java.math.BigDecimal;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

/**
 * Predicted CAUTI of a ward out of a published table: {@code exp(intercept + estimates) * catheter
 * days}. By catheter days, never by patient days.
 *
 * <p>Rule PRED-1. Source: CDC, NHSN 2022 rebaseline, CAUTI risk adjustment; the log-linear form
 * restated (HL7 Quality Measure guide), the exponential and the catheter days from memory, to be
 * checked against the current manual (domain rules 4.4).
 */
public final class PredictedCauti {
  private final CoefficientTable table;
  private final Map<Factor, String> hospital;

  /**
   * @param hospital what the hospital is, by factor, without the location group
   * @throws IllegalArgumentException naming the value, when the table needs one that is not there
   *     or is of no level
   */
  public PredictedCauti(HospitalType type, Map<Factor, String> hospital) {
    this.table = CoefficientTable.of(type);
    this.hospital = Map.copyOf(hospital);
    table.sum(withGroup(anyGroup()));
  }

  /**
   * A predicted count and how it came about.
   *
   * @param sum intercept and estimates, exact
   * @param predicted events in the catheter days, not rounded
   */
  public record Prediction(BigDecimal sum, BigDecimal predicted) {}

  /** The name of the baseline, as the table gives it. */
  public String baseline() {
    return table.legend("baseline") + ", table " + table.legend("table");
  }

  /** Where the coefficients come from, with their version and tag. */
  public String source() {
    return table.legend("source")
        + " (version "
        + table.legend("version")
        + "; "
        + table.legend("tag")
        + ")";
  }

  /** Whether a ward needs a location group to be predicted for. */
  public boolean needsLocationGroup() {
    return table.factors().contains(Factor.LOCATION_GROUP);
  }

  /**
   * Refuses a location group that the table does not have.
   *
   * @throws IllegalArgumentException naming the value
   */
  public void requireGroup(String locationGroup) {
    table.sum(withGroup(Optional.of(locationGroup)));
  }

  /**
   * The prediction for so many catheter days; empty when the ward has no location group and the
   * table needs one.
   */
  public Optional<Prediction> predict(Optional<String> locationGroup, long catheterDays) {
    if (needsLocationGroup() && locationGroup.isEmpty()) {
      return Optional.empty();
    }
    BigDecimal sum = table.sum(withGroup(locationGroup));
    return Optional.of(
        new Prediction(sum, BigDecimal.valueOf(Math.exp(sum.doubleValue()) * catheterDays)));
  }

  private Optional<String> anyGroup() {
    return table.levels(Factor.LOCATION_GROUP).stream()
        .findFirst()
        .map(CoefficientTable.Level::name);
  }

  private Map<Factor, String> withGroup(Optional<String> group) {
    Map<Factor, String> values = new EnumMap<>(Factor.class);
    values.putAll(hospital);
    group.ifPresent(name -> values.put(Factor.LOCATION_GROUP, name));
    return values;
  }
}
