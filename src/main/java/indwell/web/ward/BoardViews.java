package indwell.web.ward;

import indwell.domain.event.Ward;
import indwell.domain.rule.FlagSpan;
import indwell.domain.rule.Trace;
import indwell.domain.time.FacilityCalendar;
import indwell.usecase.WardBoard.Board;
import indwell.usecase.WardBoard.Row;
import indwell.web.ward.BoardView.Choice;
import indwell.web.ward.BoardView.Due;
import indwell.web.ward.BoardView.Why;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/** Puts a board into words, in the zone of the facility. */
final class BoardViews {
  private static final DateTimeFormatter TIME =
      DateTimeFormatter.ofPattern("d MMM uuuu, HH:mm", Locale.ENGLISH);

  private final FacilityCalendar calendar;

  BoardViews(FacilityCalendar calendar) {
    this.calendar = calendar;
  }

  /**
   * The page.
   *
   * @param chosen one ward, or the whole house
   */
  BoardView view(Board board, Optional<Ward> chosen) {
    List<Row> rows =
        board.rows().stream().filter(row -> chosen.isEmpty() || chosen.equals(row.ward())).toList();
    return new BoardView(
        time(board.computedAt()),
        calendar.zone().getId(),
        choices(board, chosen),
        chosen.map(Ward::code).orElse(""),
        summary(rows),
        rows.stream().map(row -> row(row, board.computedAt())).toList());
  }

  private static List<Choice> choices(Board board, Optional<Ward> chosen) {
    List<Choice> choices = new ArrayList<>();
    choices.add(new Choice("All wards", "/", chosen.isEmpty()));
    board.rows().stream()
        .flatMap(row -> row.ward().stream())
        .distinct()
        .sorted()
        .forEach(
            ward ->
                choices.add(
                    new Choice(ward.code(), address(ward), chosen.equals(Optional.of(ward)))));
    return choices;
  }

  private static String address(Ward ward) {
    return "/?ward=" + URLEncoder.encode(ward.code(), StandardCharsets.UTF_8);
  }

  private static String summary(List<Row> rows) {
    long inPlace = rows.stream().filter(Row::inPlace).count();
    long due = rows.stream().filter(row -> !row.flags().isEmpty()).count();
    return (inPlace == 1 ? "1 catheter in place" : inPlace + " catheters in place")
        + ", "
        + (due == 0 ? "nothing due." : due == 1 ? "1 needs a hand." : due + " need a hand.");
  }

  private BoardView.Row row(Row row, Instant now) {
    return new BoardView.Row(
        row.patient().value(),
        row.ward().map(Ward::code).orElse("outside any ward"),
        "Day " + row.day().value(),
        "Calendar days in place; day 1 is the date of event "
            + row.catheter().placedBy().key().token()
            + ".",
        time(row.catheter().start()),
        Reasons.of(row.indication()),
        row.inPlace() ? "" : "patient left, removal not on record",
        row.flags().stream().map(flag -> due(flag, now)).toList());
  }

  private Due due(FlagSpan flag, Instant now) {
    return new Due(
        flag.code().display(),
        "since " + time(flag.since()) + " (" + length(Duration.between(flag.since(), now)) + ")",
        flag.trace().finding(),
        why(flag.trace()));
  }

  private static Why why(Trace trace) {
    String events =
        trace.facts().stream().map(fact -> fact.key().token()).collect(Collectors.joining(", "));
    return new Why(trace.rule().id(), trace.rule().source(), events);
  }

  private String time(Instant instant) {
    return TIME.format(calendar.local(instant));
  }

  /** Whole minutes below an hour, whole hours below two days, whole days from there on. */
  static String length(Duration duration) {
    if (duration.toHours() < 1) {
      return duration.toMinutes() + " min";
    }
    return duration.toHours() < 48 ? duration.toHours() + " h" : duration.toDays() + " days";
  }
}
