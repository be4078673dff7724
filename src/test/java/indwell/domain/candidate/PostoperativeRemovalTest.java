package indwell.domain.candidate;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import java.time.LocalDate;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** PROC-1. Source: CMS178 versions 4 to 6 (published): the date of surgery is day 0. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PostoperativeRemovalTest {

  @ParameterizedTest(name = "{0}: removed on {1} {2}: {3}, day {4}")
  @CsvSource({
    "PROC-1, 06-02, 00:00, pass, 1",
    "PROC-1, 06-03, 23:59:59, pass, 2",
    "PROC-1, 06-04, 00:00, fail, 3",
    "day 0 is not day 1 or 2, 06-01, 23:59:59, not-measured, 0"
  })
  void removed(String row, String date, String time, String result, int day) {
    PostoperativeRemoval removal =
        removal(
            """
            06-01 07:00 admitted W1
            06-01 08:00 inserted c1
            %s %s removed c1
            """
                .formatted(date, time),
            "06-09");

    assertThat(removal.result().code()).isEqualTo(result);
    assertThat(removal.day()).hasValue(day);
    assertThat(removal.removedOn()).contains(CandidateSentence.date(date));
    assertThat(removal.trace().facts())
        .extracting(event -> event.key().eventId())
        .containsExactly("e3");
  }

  @ParameterizedTest(name = "in place on {0}: {1}, {2}")
  @CsvSource(
      delimiter = '|',
      value = {
        "06-01 | pending | In place, and postoperative day 2, 2024-06-03, is not over.",
        "06-03 | pending | In place, and postoperative day 2, 2024-06-03, is not over.",
        "06-04 | fail | Not removed by the end of postoperative day 2, 2024-06-03.",
        "07-30 | fail | Not removed by the end of postoperative day 2, 2024-06-03."
      })
  void in_place(String today, String result, String sentence) {
    PostoperativeRemoval removal =
        removal("06-01 07:00 admitted W1\n06-01 08:00 inserted c1", today);

    assertThat(removal.result().code()).isEqualTo(result);
    assertThat(removal.trace().finding()).isEqualTo(sentence);
    assertThat(removal.removedOn()).isEmpty();
    assertThat(removal.trace().facts()).hasSize(1);
  }

  @Test
  void an_exchange_is_no_removal() {
    assertThat(
            removal(
                    """
                    06-01 07:00 admitted W1
                    06-01 08:00 inserted c1
                    06-02 10:00 exchanged c1 c2
                    06-04 10:00 removed c2
                    """,
                    "06-09")
                .result()
                .code())
        .isEqualTo("fail");
  }

  @Test
  void a_catheter_beside_another_is_looked_at_until_both_are_out() {
    assertThat(
            removal(
                    """
                    06-01 07:00 admitted W1
                    06-01 08:00 inserted c1
                    06-01 09:00 inserted c2
                    06-02 10:00 removed c1
                    06-03 10:00 removed c2
                    """,
                    "06-09")
                .day())
        .hasValue(2);
  }

  @Test
  void a_suprapubic_catheter_neither_lengthens_nor_ends_the_time_of_another() {
    assertThat(
            removal(
                    """
                    06-01 07:00 admitted W1
                    06-01 08:00 inserted c1
                    06-01 08:00 inserted s1 suprapubic
                    06-02 10:00 removed c1
                    06-05 10:00 removed s1
                    """,
                    "06-09")
                .day())
        .hasValue(1);
    assertThat(
            removal(
                    """
                    06-01 07:00 admitted W1
                    06-01 08:00 inserted c1
                    06-01 08:00 inserted s1 suprapubic
                    06-02 10:00 removed s1
                    06-02 10:00 discharged
                    """,
                    "06-09")
                .result()
                .code())
        .isEqualTo("not-measured");
  }

  @ParameterizedTest(name = "{0}")
  @CsvSource({
    "06-01 08:00 inserted c1 suprapubic",
    "06-01 11:00:01 inserted c1",
    "05-31 08:00 inserted c1; 06-01 11:00 removed c1"
  })
  void without_a_catheter_at_the_end_there_is_nothing_to_measure(String events) {
    PostoperativeRemoval removal =
        removal("05-31 07:00 admitted W1\n" + events.replace("; ", "\n"), "06-09");

    assertThat(removal.result().code()).isEqualTo("not-measured");
    assertThat(removal.trace().finding()).isEqualTo("No catheter was in place at the end.");
  }

  @ParameterizedTest(name = "{0}")
  @CsvSource({"discharged", "discharged with-catheter"})
  void one_who_left_with_it_is_not_measured(String left) {
    PostoperativeRemoval removal =
        removal("06-01 07:00 admitted W1\n06-01 08:00 inserted c1\n06-02 10:00 " + left, "06-09");

    assertThat(removal.result().code()).isEqualTo("not-measured");
    assertThat(removal.trace().finding())
        .isEqualTo("The patient left on 2024-06-02, and no removal before that is on record.");
  }

  /** The operation ends at 11:00 on 06-01. */
  private static PostoperativeRemoval removal(String lines, String today) {
    TimelineSentence history = TimelineSentence.of(lines);
    LocalDate date = CandidateSentence.date(today);
    return PostoperativeRemoval.of(
        history.timeline(), history.calendar(), history.instant("06-01 11:00"), date);
  }
}
