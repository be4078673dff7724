package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.timeline.CatheterDay;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Stay;
import indwell.domain.timeline.Timeline;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * Why a date has its number, is eligible or not, and is attributed where it is: rule, sentence and
 * the events used, {@code e} with the number of their line.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class DayTracesTest {
  @Test
  void before_the_first_inpatient_date_and_from_it_on() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted ER outpatient
            06-01 11:00 inserted c1
            06-02 10:00 transferred A
            06-02 12:00 transferred B
            """);

    assertThat(traces(patient, "06-04 12:00"))
        .isEqualTo(
            """
            06-01 ELI-1 No day of the count: the stay had no inpatient date yet. []
            06-01 ELI-3 Not eligible: neither this date nor the one before is day 3 or later. []
            06-01 ATT-1 No ward: the patient was in no inpatient ward by which to attribute it. []
            06-02 ELI-1 Day 1: the first inpatient date of the stay with a catheter that counts. [e2 e3]
            06-02 ELI-1 Not eligible: day 1 comes before day 3. [e2]
            06-02 ATT-1 Ward A: the first inpatient ward of this first inpatient date. [e3]
            06-03 ELI-2 Day 2: the count goes on from the date before. [e2]
            06-03 ELI-1 Not eligible: day 2 comes before day 3. [e2]
            06-03 ATT-1 Ward A: the first inpatient ward of the date before. [e3]
            06-04 ELI-2 Day 3: the count goes on from the date before. [e2]
            06-04 ELI-1 Eligible: day 3 is day 3 or later. [e2]
            06-04 ATT-1 Ward B: the first inpatient ward of the date before. [e4]""");
  }

  @Test
  void the_date_after_the_last_day_and_a_start_anew_after_a_full_date_without() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-03 09:00 removed c1
            06-06 09:00 inserted c2
            """);

    assertThat(traces(patient, "06-06 12:00").lines().skip(6).toList())
        .containsExactly(
            "06-03 ELI-2 Day 3: the count goes on from the date before. [e2 e3]",
            "06-03 ELI-1 Eligible: day 3 is day 3 or later. [e2 e3]",
            "06-03 ATT-1 Ward A: the first inpatient ward of the date before. [e1]",
            "06-04 ELI-1 No day of the count: no catheter that counts was in place on this date. []",
            "06-04 ELI-3 Eligible: the date before was day 3, its last. [e2 e3]",
            "06-04 ATT-1 Ward A: the first inpatient ward of the date before. [e1]",
            "06-05 ELI-1 No day of the count: no catheter that counts was in place on this date. []",
            "06-05 ELI-3 Not eligible: neither this date nor the one before is day 3 or later. []",
            "06-05 ATT-1 Ward A: the first inpatient ward of the date before. [e1]",
            "06-06 ELI-2 Day 1: a full date without a catheter lies before, so it starts anew. [e4]",
            "06-06 ELI-1 Not eligible: day 1 comes before day 3. [e4]",
            "06-06 ATT-1 Ward A: the first inpatient ward of the date before. [e1]");
  }

  @Test
  void a_date_with_two_catheters_names_what_put_both_in_and_what_ended_one() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 09:00 exchanged c1 c2
            06-03 09:00 removed c2
            """);

    assertThat(traces(patient, "06-03 12:00").lines().filter(line -> line.contains("ELI-2")))
        .containsExactly(
            "06-02 ELI-2 Day 2: the count goes on from the date before. [e2 e3]",
            "06-03 ELI-2 Day 3: the count goes on from the date before. [e3 e4]");
  }

  private static String traces(TimelineSentence patient, String asOf) {
    Timeline timeline = patient.asOf(asOf);
    Stay stay = timeline.latestStayBegunBy(patient.instant(asOf)).orElseThrow();
    List<CatheterDay> days =
        new EligibilityCount(timeline, patient.calendar()).days(stay, patient.instant(asOf));
    List<List<Trace>> traces = new DayTraces(timeline, stay, patient.calendar()).of(days);
    assertThat(traces).hasSameSizeAs(days);
    List<String> lines = new ArrayList<>();
    for (int i = 0; i < days.size(); i++) {
      String date = days.get(i).date().toString().substring(5);
      traces.get(i).forEach(trace -> lines.add(date + " " + line(trace)));
    }
    return String.join("\n", lines);
  }

  private static String line(Trace trace) {
    return trace.rule().id()
        + " "
        + trace.finding()
        + " "
        + trace.facts().stream()
            .map(fact -> fact.key().eventId())
            .collect(Collectors.joining(" ", "[", "]"));
  }
}
