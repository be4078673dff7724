package indwell.domain.event;

import java.util.Objects;

/**
 * An identifier that a business system gave to a patient, a stay or a person: FHIR's {@code
 * Identifier} reduced to the two parts that make it unique.
 *
 * @param system absolute URI of the naming system
 * @param value the identifier within that system
 */
public record BusinessId(String system, String value) implements Comparable<BusinessId> {
  public BusinessId {
    Objects.requireNonNull(system);
    Objects.requireNonNull(value);
  }

  @Override
  public int compareTo(BusinessId other) {
    int bySystem = system.compareTo(other.system);
    return bySystem != 0 ? bySystem : value.compareTo(other.value);
  }

  /** The token form of a FHIR search, {@code system|value}. */
  public String token() {
    return system + "|" + value;
  }
}
