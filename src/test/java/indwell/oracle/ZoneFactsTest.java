package indwell.oracle;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.Example;

/**
 * What the SQL takes from {@code java.time} (the start of a date, the instant of a count time)
 * against the zone rules of ICU, which DuckDB brings along.
 */
class ZoneFactsTest {

  private static final String LOCAL = "timezone(zone, make_timestamptz(%s * 1000))";

  @Example
  void a_date_starts_at_the_first_instant_at_which_icu_shows_it() throws Exception {
    assertThat(
            wrong(
                """
                SELECT zone, date FROM calendar
                WHERE starts_at < ends_at
                  AND NOT (%s::DATE = date AND %s::DATE < date)
                """
                    .formatted(LOCAL.formatted("starts_at"), LOCAL.formatted("(starts_at - 1)"))))
        .isEmpty();
  }

  @Example
  void a_count_is_taken_at_the_first_instant_at_which_icu_shows_its_time_or_a_later_one()
      throws Exception {
    assertThat(
            wrong(
                """
                SELECT zone, date || ' ' || count_time
                FROM (FROM clock SELECT *, date + count_time::TIME AS wanted)
                WHERE %s < wanted OR %s >= wanted
                  OR %s >= wanted OR %s >= wanted
                """
                    .formatted(
                        LOCAL.formatted("moment"),
                        LOCAL.formatted("(moment - 1)"),
                        LOCAL.formatted("(moment - 1800000)"),
                        LOCAL.formatted("(moment - 3600000)"))))
        .isEmpty();
  }

  /** The rows of a query that finds what is wrong, over the dates of some hundred histories. */
  private static List<String> wrong(String query) throws Exception {
    List<String> rows = new ArrayList<>();
    try (SqlCounters sql = new SqlCounters()) {
      sql.count(RandomHistories.histories().list().ofSize(300).sample());
      sql.read(query, row -> rows.add(row.getString(1) + " " + row.getString(2)));
    }
    return rows;
  }
}
