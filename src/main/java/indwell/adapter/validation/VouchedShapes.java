package indwell.adapter.validation;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import indwell.port.ProfileValidator;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.LongAdder;

/**
 * Validates a shape once: a resource of a {@link Shape} of which another was found without fault
 * has none either. For resources that our own mapper wrote, of which there are few shapes; what
 * others send goes past it, to the validator itself.
 *
 * <p>Only what has no finding at all is vouched for. What has one is validated again each time, so
 * that every message names the values of its own resource.
 */
public final class VouchedShapes implements ProfileValidator {
  /** A house of many kinds of stay has thousands of shapes; a shape is 32 bytes and its entry. */
  private static final int MOST = 100_000;

  private final ProfileValidator validator;
  private final Cache<Shape, Boolean> vouched = Caffeine.newBuilder().maximumSize(MOST).build();

  private final LongAdder vouchedFor = new LongAdder();

  /** In front of a validator. */
  public VouchedShapes(ProfileValidator validator) {
    this.validator = validator;
  }

  /** Goes past all shapes: it is not what our mapper wrote. */
  @Override
  public List<Finding> validate(byte[] json, List<String> profiles) {
    return validator.validate(json, profiles);
  }

  @Override
  public List<Finding> validate(String json) {
    Optional<Shape> shape = Shape.of(json);
    if (shape.isPresent() && vouched.getIfPresent(shape.get()) != null) {
      vouchedFor.increment();
      return List.of();
    }
    List<Finding> findings = validator.validate(json);
    if (shape.isPresent() && findings.isEmpty()) {
      vouched.put(shape.get(), true);
    }
    return findings;
  }

  /** How many resources were not validated again, since another of their shape had no fault. */
  public long vouchedFor() {
    return vouchedFor.sum();
  }

  @Override
  public boolean knows(String profile) {
    return validator.knows(profile);
  }

  @Override
  public boolean ready() {
    return validator.ready();
  }
}
