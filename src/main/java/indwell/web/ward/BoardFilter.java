package indwell.web.ward;

import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.rule.FlagCode;
import indwell.usecase.Overdue;
import indwell.usecase.WardBoard.Row;
import indwell.web.page.FormText;
import indwell.web.page.PageRefusal;
import indwell.web.page.PageRequest;
import indwell.web.page.Shortened;
import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * What of a board is shown, as the address says it.
 *
 * @param ward one ward, or the whole house
 * @param flags only catheters with one of these, in force or to come; none for any
 * @param overdueOnly only catheters with something in force
 * @param withinHours what comes due within so many hours is shown too
 */
record BoardFilter(Optional<Ward> ward, Set<FlagCode> flags, boolean overdueOnly, int withinHours) {
  static final String FLAG = "flag";
  static final String OVERDUE = "overdue";
  static final String WITHIN = "within";
  static final Set<String> PARAMETERS = Set.of(FLAG, OVERDUE, WITHIN);

  /** One shift. */
  static final int USUAL_HOURS = 8;

  private static final String ONLY = "only";
  private static final int MOST_HOURS = (int) Overdue.LOOK_AHEAD.toHours();

  BoardFilter {
    flags = Set.copyOf(flags);
  }

  static BoardFilter of(PageRequest request) {
    EnumSet<FlagCode> flags = EnumSet.noneOf(FlagCode.class);
    request.values(FLAG).forEach(code -> flags.add(flag(code)));
    return new BoardFilter(
        request.ward(),
        flags,
        request.value(OVERDUE).map(BoardFilter::overdue).orElse(false),
        request.value(WITHIN).map(BoardFilter::hours).orElse(USUAL_HOURS));
  }

  private static FlagCode flag(String code) {
    return FlagCode.ofCode(code)
        .orElseThrow(
            () ->
                bad(
                    FLAG,
                    code,
                    "one of "
                        + Stream.of(FlagCode.values())
                            .map(FlagCode::code)
                            .collect(Collectors.joining(", "))));
  }

  private static boolean overdue(String word) {
    if (!word.equals(ONLY)) {
      throw bad(OVERDUE, word, "only, or no such parameter");
    }
    return true;
  }

  private static int hours(String text) {
    if (!text.matches("\\d{1,2}") || Integer.parseInt(text) > MOST_HOURS) {
      throw bad(WITHIN, text, "0 to " + MOST_HOURS + " hours");
    }
    return Integer.parseInt(text);
  }

  private static PageRefusal bad(String name, String value, String expected) {
    return PageRefusal.of(
        IssueCode.BAD_PARAMETER,
        "Parameter " + name + " is \"" + Shortened.text(value) + "\"; expected " + expected + ".");
  }

  Duration ahead() {
    return Duration.ofHours(withinHours);
  }

  boolean shows(Row row) {
    boolean due = !row.flags().isEmpty();
    boolean flagged =
        flags.isEmpty()
            || Stream.concat(row.flags().stream(), row.coming().stream())
                .anyMatch(flag -> flags.contains(flag.code()));
    return flagged && (due || !overdueOnly);
  }

  /** Whether it may leave catheters out. */
  boolean leavesOut() {
    return !flags.isEmpty() || overdueOnly;
  }

  BoardFilter in(Optional<Ward> other) {
    return new BoardFilter(other, flags, overdueOnly, withinHours);
  }

  BoardFilter showingAll() {
    return new BoardFilter(ward, Set.of(), false, withinHours);
  }

  /** The page without its parameters. */
  String path() {
    return ward.map(one -> "/wards/" + FormText.encode(one.code())).orElse("/");
  }

  /** The page with its parameters. */
  String address() {
    return path() + query();
  }

  /** Where the forms of the page are sent, which leads back to it. */
  String formAddress(String form) {
    return (ward.isPresent() ? path() : "") + "/" + form + query();
  }

  private String query() {
    List<String> parts = new ArrayList<>();
    flags.stream().sorted().forEach(flag -> parts.add(FLAG + "=" + flag.code()));
    if (overdueOnly) {
      parts.add(OVERDUE + "=" + ONLY);
    }
    if (withinHours != USUAL_HOURS) {
      parts.add(WITHIN + "=" + withinHours);
    }
    return parts.isEmpty() ? "" : "?" + String.join("&", parts);
  }
}
