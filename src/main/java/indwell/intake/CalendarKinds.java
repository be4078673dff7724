package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;

/** Calendar months and dates as facts write them. */
final class CalendarKinds {
  static final FieldKind<YearMonth> MONTH = new MonthKind();
  static final FieldKind<LocalDate> DATE = new DateKind();
  static final FieldKind<List<LocalDate>> DATES = new DatesKind();

  private CalendarKinds() {}

  /** A month of the calendar, {@code 2026-03}. */
  private record MonthKind() implements FieldKind<YearMonth> {
    private static final Pattern FORM = Pattern.compile("\\d{4}-(0[1-9]|1[0-2])");

    @Override
    public String expected() {
      return "a month such as 2026-03";
    }

    @Override
    public Optional<YearMonth> read(Object value, String path, Faults faults) {
      if (!(value instanceof String text)) {
        faults.wrongType(path, value, expected());
        return Optional.empty();
      }
      if (FORM.matcher(text).matches()) {
        return Optional.of(YearMonth.parse(text));
      }
      faults.add(
          IssueCode.UNREADABLE_MONTH,
          path,
          "Month " + Quoted.text(text) + " is unreadable; expected " + expected() + ".");
      return Optional.empty();
    }
  }

  /** A date of the calendar, {@code 2026-03-04}. */
  private record DateKind() implements FieldKind<LocalDate> {
    private static final Pattern FORM = Pattern.compile("\\d{4}-\\d\\d-\\d\\d");

    @Override
    public String expected() {
      return "a date such as 2026-03-04";
    }

    @Override
    public Optional<LocalDate> read(Object value, String path, Faults faults) {
      if (!(value instanceof String text)) {
        faults.wrongType(path, value, expected());
        return Optional.empty();
      }
      try {
        if (FORM.matcher(text).matches()) {
          return Optional.of(LocalDate.parse(text));
        }
      } catch (DateTimeException e) {
        // No calendar has this date; told below like any other text that is no date.
      }
      faults.add(
          IssueCode.UNREADABLE_DATE,
          path,
          "Date "
              + Quoted.text(text)
              + " of field "
              + path
              + " is unreadable; expected "
              + expected()
              + ".");
      return Optional.empty();
    }
  }

  /** A list of dates, each {@code 2026-03-04}, in any order. */
  private record DatesKind() implements FieldKind<List<LocalDate>> {
    private static final int MOST = 10_000;

    @Override
    public String expected() {
      return "a list of at most " + MOST + " dates such as 2026-03-04";
    }

    @Override
    public Optional<List<LocalDate>> read(Object value, String path, Faults faults) {
      if (!(value instanceof List<?> values) || values.size() > MOST) {
        faults.wrongType(path, value, expected());
        return Optional.empty();
      }
      List<LocalDate> dates = new ArrayList<>();
      for (int i = 0; i < values.size(); i++) {
        DATE.read(values.get(i), path + "[" + i + "]", faults).ifPresent(dates::add);
      }
      return dates.size() == values.size() ? Optional.of(dates) : Optional.empty();
    }
  }
}
