package indwell.oracle;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.RandomDistribution;
import net.jqwik.api.lifecycle.AfterContainer;

/**
 * Both day counters, as the use cases answer them, against SQL over the same facts that shares
 * nothing with the service: every cell of more than 10,000 random histories. A list of histories is
 * one run of the SQL; one that fails shrinks to one short history.
 */
class DayCountersTest {
  private static final int TRIES = 50;
  private static final int MOST_HISTORIES_A_TRY = 480;

  private static final SqlCounters SQL = new SqlCounters();
  private static int compared;

  @AfterContainer
  static void enough() {
    SQL.close();
    assertThat(compared).as("histories compared").isGreaterThan(10_000);
  }

  @Provide
  Arbitrary<Drawn> histories() {
    return RandomHistories.histories()
        .list()
        .ofMinSize(1)
        .ofMaxSize(MOST_HISTORIES_A_TRY)
        .withSizeDistribution(RandomDistribution.uniform())
        .map(Drawn::new);
  }

  @Property(tries = TRIES, seed = "20261125", edgeCases = EdgeCasesMode.NONE)
  void the_service_counts_as_the_sql_does(@ForAll("histories") Drawn drawn) {
    compared += drawn.histories().size();
    assertThat(differences(SQL, drawn.histories())).isEmpty();
  }

  /** Each history in which a cell differs, in words, with those cells. */
  static List<String> differences(SqlCounters sql, List<History> histories) {
    List<Answers> counted = sql.count(histories);
    List<String> differences = new ArrayList<>();
    for (int i = 0; i < histories.size(); i++) {
      String cells = counted.get(i).differencesTo(ServiceCounters.count(histories.get(i)));
      if (!cells.isEmpty()) {
        differences.add(histories.get(i) + "\n" + cells);
      }
    }
    return differences;
  }
}
