package indwell.domain.event;

import java.util.Objects;

/** The sending side's name for a catheter; unique within its patient. */
public record CatheterId(String value) implements Comparable<CatheterId> {
  public CatheterId {
    Objects.requireNonNull(value);
  }

  @Override
  public int compareTo(CatheterId other) {
    return value.compareTo(other.value);
  }
}
