package indwell.intake;

import indwell.domain.candidate.ColonyCount;
import indwell.domain.refusal.IssueCode;
import java.math.BigDecimal;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;

/** A colony count: a number, or a range with one or both ends. */
record ColonyCountKind() implements FieldKind<ColonyCount> {
  private static final FieldKind<Integer> NUMBER =
      WholeNumberKind.of("Colony count", "CFU/mL", 0, 1_000_000_000);
  private static final FieldKind<ColonyCount> RANGE =
      new ObjectKind<>("an object with from, to or both", ColonyCountKind::range);

  @Override
  public String expected() {
    return NUMBER.expected() + ", or " + RANGE.expected();
  }

  @Override
  public Optional<ColonyCount> read(Object value, String path, Faults faults) {
    if (value instanceof BigDecimal) {
      return NUMBER.read(value, path, faults).map(ColonyCount::of);
    }
    if (value instanceof Map) {
      return RANGE.read(value, path, faults);
    }
    faults.wrongType(path, value, expected());
    return Optional.empty();
  }

  private static Optional<ColonyCount> range(ObjectReader range, Faults faults) {
    Optional<Integer> from = range.requiredIf(!range.has("to"), "from", NUMBER);
    Optional<Integer> to = range.optional("to", NUMBER);
    if (from.isPresent() && to.isPresent() && to.get() < from.get()) {
      faults.add(
          IssueCode.REVERSED_RANGE,
          range.pathOf("to"),
          "Colony count from %d to %d CFU/mL runs backwards; expected from at most to."
              .formatted(from.get(), to.get()));
      return Optional.empty();
    }
    return from.isEmpty() && to.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new ColonyCount(from.orElse(0), to.map(OptionalInt::of).orElse(OptionalInt.empty())));
  }
}
