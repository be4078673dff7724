package indwell.intake;

import indwell.domain.refusal.IssueCode;
import indwell.domain.time.FacilityCalendar;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;

/**
 * The dates of a question about candidates: a time is given as the facility's date on which it
 * lies, a date is the facility's as it stands.
 *
 * @param birth nothing happened before it; empty when it is not told
 */
record CandidateDates(
    FacilityCalendar calendar, TimeLimits limits, LocalDate today, Optional<LocalDate> birth) {
  /** A birth is no earlier. */
  private static final LocalDate EARLIEST_BIRTH = LocalDate.of(1880, 1, 1);

  private static final LocalDate EARLIEST = LocalDate.of(2000, 1, 1);

  static CandidateDates at(Instant now, FacilityCalendar calendar) {
    return new CandidateDates(calendar, TimeLimits.at(now), calendar.dateOf(now), Optional.empty());
  }

  CandidateDates withBirth(Optional<LocalDate> date) {
    return new CandidateDates(calendar, limits, today, date);
  }

  /** A date of birth, if it is there. */
  Optional<LocalDate> birth(ObjectReader object, String name, Faults faults) {
    return object
        .optional(name, CalendarKinds.DATE)
        .filter(date -> isWithin(date, EARLIEST_BIRTH, object.pathOf(name), faults));
  }

  /** A required date. */
  Optional<LocalDate> date(ObjectReader object, String name, Faults faults) {
    return object
        .required(name, CalendarKinds.DATE)
        .filter(date -> isWithin(date, EARLIEST, object.pathOf(name), faults))
        .filter(date -> isAfterBirth(date, object.pathOf(name), faults));
  }

  /** The date of a time or of a date: one of the two fields is to be there. */
  Optional<LocalDate> either(ObjectReader object, String at, String on, Faults faults) {
    if (!oneOfTwo(object, at, on, faults)) {
      return Optional.empty();
    }
    return object.has(on)
        ? date(object, on, faults)
        : object
            .optional(at, new TimeKind(limits))
            .map(calendar::dateOf)
            .filter(date -> isAfterBirth(date, object.pathOf(at), faults));
  }

  /** Whether exactly one of two fields is there; both are known from then on. */
  static boolean oneOfTwo(ObjectReader object, String one, String other, Faults faults) {
    object.knows(one);
    object.knows(other);
    boolean both = object.has(one) && object.has(other);
    if (!both && (object.has(one) || object.has(other))) {
      return true;
    }
    String names = object.pathOf(one) + (both ? " and " : " nor ") + object.pathOf(other);
    faults.add(
        IssueCode.NOT_ONE_OF_TWO,
        object.pathOf(one),
        (both ? "Fields " + names + " are both there" : "Neither " + names + " is there")
            + "; expected one of the two.");
    return false;
  }

  private boolean isWithin(LocalDate date, LocalDate earliest, String path, Faults faults) {
    if (date.isBefore(earliest)) {
      return outOfRange(date, path, "is too early; expected " + earliest + " or later.", faults);
    }
    return !date.isAfter(today)
        || outOfRange(date, path, "has not come; expected " + today + " or earlier.", faults);
  }

  private static boolean outOfRange(LocalDate date, String path, String what, Faults faults) {
    faults.add(
        IssueCode.DATE_OUT_OF_RANGE, path, "Date " + date + " of field " + path + " " + what);
    return false;
  }

  private boolean isAfterBirth(LocalDate date, String path, Faults faults) {
    if (birth.filter(date::isBefore).isEmpty()) {
      return true;
    }
    faults.add(
        IssueCode.DATE_BEFORE_BIRTH,
        path,
        "Date "
            + date
            + " of field "
            + path
            + " is before the birth; expected "
            + birth.get()
            + " or later.");
    return false;
  }
}
