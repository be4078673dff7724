package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Optional;

/** An RFC 3339 date-time with offset, within limits. */
record TimeKind(TimeLimits limits) implements FieldKind<Instant> {

  @Override
  public String expected() {
    return "an RFC 3339 date-time with an offset of at most 14:00,"
        + " such as 2026-03-01T08:30:00+01:00";
  }

  @Override
  public Optional<Instant> read(Object value, String path, Faults faults) {
    if (!(value instanceof String text)) {
      faults.wrongType(path, value, expected());
      return Optional.empty();
    }
    Optional<Instant> instant = Rfc3339.read(text);
    if (instant.isEmpty()) {
      faults.add(
          IssueCode.UNREADABLE_TIME, path, sentence(text, path, "is unreadable", expected()));
    }
    return instant.filter(at -> isWithin(at, text, path, faults));
  }

  private boolean isWithin(Instant at, String text, String path, Faults faults) {
    if (at.isBefore(limits.earliest())) {
      String earliest = limits.earliest() + " or later";
      faults.add(IssueCode.TIME_OUT_OF_RANGE, path, sentence(text, path, "is too early", earliest));
      return false;
    }
    if (at.isAfter(limits.latest())) {
      String latest =
          limits.latest().truncatedTo(ChronoUnit.MILLIS)
              + " or earlier, which is 5 minutes ahead of this service's clock";
      faults.add(IssueCode.TIME_OUT_OF_RANGE, path, sentence(text, path, "is to come", latest));
      return false;
    }
    return true;
  }

  private static String sentence(String text, String path, String fault, String expected) {
    return "Time %s of field %s %s; expected %s."
        .formatted(Quoted.text(text), path, fault, expected);
  }
}
