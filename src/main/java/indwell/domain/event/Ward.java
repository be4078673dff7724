package indwell.domain.event;

import java.util.Objects;

/** A ward by its code, which is also the id of its FHIR Location. Ordered by code point. */
public record Ward(String code) implements Comparable<Ward> {
  public Ward {
    Objects.requireNonNull(code);
  }

  @Override
  public int compareTo(Ward other) {
    return code.compareTo(other.code);
  }
}
