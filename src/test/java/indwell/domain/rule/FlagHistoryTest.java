package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.time.Span;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * Of one catheter and code a ward sees one flag at a time, the one that dates from the earliest.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FlagHistoryTest {
  private static final TimelineSentence PATIENT =
      TimelineSentence.of(
          """
          06-01 00:00 admitted A
          06-01 00:00 inserted c1
          06-01 00:00 inserted c2
          """);

  private static Instant at(String time) {
    return PATIENT.instant(time);
  }

  private static FlagSpan flag(int catheter, String finding, String since, String until) {
    return new FlagSpan(
        FlagCode.CARE_CHECK_OVERDUE,
        PATIENT.timeline().placements().get(catheter - 1),
        at(since),
        true,
        until.isEmpty() ? Optional.empty() : Optional.of(at(until)),
        new Trace(RuleId.FLAG_CARE_CHECK, finding, List.of()));
  }

  private static Span between(String start, String end) {
    return Span.between(at(start), at(end));
  }

  private static String seen(String now, FlagSpan... spans) {
    return FlagHistory.upTo(List.of(spans), at(now)).stream()
        .map(
            one ->
                one.span().catheter().catheter().value()
                    + " "
                    + one.span().trace().finding()
                    + " "
                    + one.times().stream()
                        .map(FlagHistoryTest::hours)
                        .collect(Collectors.joining(" "))
                    + one.end().map(end -> " gone " + hour(end)).orElse(""))
        .collect(Collectors.joining("\n"));
  }

  private static String hours(Span time) {
    return hour(time.start()) + "-" + time.end().map(FlagHistoryTest::hour).orElse("");
  }

  private static String hour(Instant instant) {
    return PATIENT.calendar().local(instant).toLocalDateTime().toString().substring(8);
  }

  @Test
  void a_flag_is_over_from_its_end_on_and_not_before() {
    FlagSpan over = flag(1, "one", "06-02 00:00", "06-02 10:00");

    assertThat(seen("06-02 09:59", over)).isEqualTo("c1 one 02T00:00-02T10:00");
    assertThat(seen("06-02 10:00", over)).isEqualTo("c1 one 02T00:00-02T10:00 gone 02T10:00");
  }

  @Test
  void more_than_a_limit_has_not_begun_at_the_limit() {
    FlagSpan more = flag(1, "one", "06-02 00:00", "");

    assertThat(seen("06-02 00:00", more)).isEmpty();
    assertThat(seen("06-02 00:00:00.001", more)).isEqualTo("c1 one 02T00:00-");
    FlagSpan from =
        new FlagSpan(more.code(), more.catheter(), more.since(), false, more.until(), more.trace());
    assertThat(seen("06-01 23:59:59.999", from)).isEmpty();
    assertThat(seen("06-02 00:00", from)).isEqualTo("c1 one 02T00:00-");
  }

  @Test
  void a_time_that_begins_later_than_the_flag_dates_from_begins_at_its_first_instant() {
    FlagSpan decided =
        flag(1, "one", "06-02 00:00", "").decidedIn(between("06-02 05:00", "06-02 07:00"));

    assertThat(seen("06-02 04:59", decided)).isEmpty();
    assertThat(seen("06-02 05:00", decided)).isEqualTo("c1 one 02T05:00-02T07:00");
  }

  @Test
  void behind_an_earlier_flag_a_later_one_is_seen_only_once_that_is_gone() {
    FlagSpan first = flag(1, "first", "06-02 00:00", "06-02 10:00");
    FlagSpan second = flag(1, "second", "06-02 06:00", "06-02 14:00");

    assertThat(seen("06-03 00:00", second, first))
        .isEqualTo(
            "c1 first 02T00:00-02T10:00 gone 02T10:00\nc1 second 02T10:00-02T14:00 gone 02T14:00");
    assertThat(seen("06-02 08:00", second, first)).isEqualTo("c1 first 02T00:00-02T10:00");
  }

  @Test
  void a_flag_that_lies_wholly_behind_another_is_never_seen() {
    assertThat(
            seen(
                "06-03 00:00",
                flag(1, "first", "06-02 00:00", "06-02 10:00"),
                flag(1, "hidden", "06-02 02:00", "06-02 10:00")))
        .isEqualTo("c1 first 02T00:00-02T10:00 gone 02T10:00");
  }

  @Test
  void other_catheters_have_flags_of_their_own() {
    assertThat(
            seen(
                "06-02 01:00",
                flag(1, "one", "06-02 00:00", ""),
                flag(2, "two", "06-02 00:00", "")))
        .isEqualTo("c1 one 02T00:00-\nc2 two 02T00:00-");
  }

  @Test
  void two_reasons_of_one_instant_are_one_flag_for_which_the_last_one_seen_speaks() {
    FlagSpan before = flag(1, "before", "06-02 00:00", "");
    FlagSpan early = before.decidedIn(between("06-02 00:00", "06-02 05:00"));
    FlagSpan late =
        flag(1, "after", "06-02 00:00", "").decidedIn(between("06-02 08:00", "06-02 12:00"));

    String both = "c1 after 02T00:00-02T05:00 02T08:00-02T12:00 gone 02T12:00";
    assertThat(seen("06-03 00:00", early, late)).isEqualTo(both);
    assertThat(seen("06-03 00:00", late, early)).isEqualTo(both);
    assertThat(seen("06-02 09:00", early, late))
        .isEqualTo("c1 after 02T00:00-02T05:00 02T08:00-02T12:00");
  }
}
