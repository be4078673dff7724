package indwell.boot.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class DemoTimesTest {
  /** Berlin left summer time on 2026-10-25 at 01:00Z. */
  private final DemoTimes berlin =
      new DemoTimes(Instant.parse("2026-10-26T07:20:41.500Z"), ZoneId.of("Europe/Berlin"));

  @Test
  void a_local_time_counts_dates_back_from_today() {
    assertThat(moment("-1 09:00")).isEqualTo("2026-10-25T09:00:00+01:00");
    assertThat(moment("-2 09:00")).isEqualTo("2026-10-24T09:00:00+02:00");
  }

  @Test
  void now_is_cut_to_the_minute_and_hour_to_the_local_hour() {
    assertThat(moment("now")).isEqualTo("2026-10-26T08:20:00+01:00");
    assertThat(moment("now-13h")).isEqualTo("2026-10-25T19:20:00+01:00");
    assertThat(moment("hour-90m")).isEqualTo("2026-10-26T06:30:00+01:00");
  }

  @Test
  void a_bare_length_goes_back_from_the_event_itself() {
    Instant own = Instant.parse("2026-10-25T04:00:00Z");

    assertThat(berlin.written(berlin.moment("-8h", own))).isEqualTo("2026-10-24T22:00:00+02:00");
  }

  @Test
  void a_row_steps_by_elapsed_time_through_the_clock_change_and_stops_at_now() {
    assertThat(moments("every 8h from -2 22:00"))
        .containsExactly(
            "2026-10-24T22:00:00+02:00",
            "2026-10-25T05:00:00+01:00",
            "2026-10-25T13:00:00+01:00",
            "2026-10-25T21:00:00+01:00",
            "2026-10-26T05:00:00+01:00");
  }

  @Test
  void a_daily_row_keeps_the_local_time_and_takes_in_its_end() {
    assertThat(moments("daily from -2 08:00 to -1 08:00"))
        .containsExactly("2026-10-24T08:00:00+02:00", "2026-10-25T08:00:00+01:00");
    assertThat(moments("daily from -1 08:21")).containsExactly("2026-10-25T08:21:00+01:00");
  }

  @Test
  void what_cannot_be_read_is_named() {
    assertThatThrownBy(() -> moment("yesterday"))
        .hasMessage("Demo time 'yesterday' cannot be read; expected one like '-6 09:00'.");
  }

  private String moment(String expression) {
    return berlin.written(berlin.moment(expression, berlin.now()));
  }

  private List<String> moments(String when) {
    return berlin.moments(when).stream().map(berlin::written).toList();
  }
}
