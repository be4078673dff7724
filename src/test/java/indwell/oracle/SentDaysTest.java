package indwell.oracle;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.ResourceQuery;
import indwell.usecase.ReadResources;
import indwell.usecase.RecordEvents;
import indwell.web.fhir.AnswersOverHttp;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/**
 * The resources of one service, sent to another that has none, are counted as the first counts what
 * it has stored: corrections, withdrawals and contradictions included, in any order of lines.
 */
class SentDaysTest {
  private static final String JSON = "application/fhir+json";
  private static final String LINES = "application/fhir+ndjson";

  @Provide
  Arbitrary<History> histories() {
    return RandomHistories.histories();
  }

  @Property(tries = 25, seed = "20261128", edgeCases = EdgeCasesMode.NONE)
  void what_is_sent_is_counted_as_if_it_had_been_stored(
      @ForAll("histories") History history, @ForAll Random random) throws Exception {
    try (ClinicalStore store = new MemoryStore();
        ClinicalStore empty = new MemoryStore()) {
      record(store, history);
      List<String> lines = resources(store);
      Collections.shuffle(lines, random);
      try (AnswersOverHttp full = over(store, history);
          AnswersOverHttp other = over(empty, history)) {
        String range =
            "/$device-days?start=%s&end=%s".formatted(history.firstDate(), history.lastDate());
        String why = range + "&why=true&report-type=subject-list";

        assertThat(other.post(range, LINES, String.join("\n", lines), "text/csv"))
            .isEqualTo(full.get(range, "text/csv"));
        assertThat(other.post(why, LINES, String.join("\n", lines) + "\n", JSON))
            .isEqualTo(full.get(why, JSON));
        assertThat(other.post(why, JSON, bundle("searchset", lines), JSON))
            .isEqualTo(full.get(why, JSON));
        assertThat(other.post("/$device-days", JSON, parameters(history, lines), JSON))
            .isEqualTo(full.get(range, JSON));
      }
      assertThat(resources(empty)).isEmpty();
    }
  }

  private static AnswersOverHttp over(ClinicalStore store, History history) throws Exception {
    return new AnswersOverHttp(store, ServiceCounters.facility(history), ServiceCounters.NOW);
  }

  private static void record(ClinicalStore store, History history) {
    RecordEvents recordEvents =
        new RecordEvents(store, new Unvalidated(), new MappingContext(history.zone()));
    for (Fact fact : history.arrivals()) {
      byte[] body = FactBody.of(fact).getBytes(StandardCharsets.UTF_8);
      recordEvents.record(EventBodies.line(body, ServiceCounters.NOW), ServiceCounters.NOW);
    }
  }

  /** All that is stored, as an export would give it. */
  private static List<String> resources(ClinicalStore store) {
    List<String> lines = new ArrayList<>();
    for (String type : ReadResources.TYPES) {
      ResourceQuery all =
          new ResourceQuery(type, Set.of(), Set.of(), Set.of(), Optional.empty(), 100_000);
      store.read(state -> state.search(all)).forEach(one -> lines.add(one.json()));
    }
    return lines;
  }

  private static String bundle(String type, List<String> lines) {
    return lines.stream()
        .map(line -> "{\"search\":{\"mode\":\"match\"},\"resource\":" + line + "}")
        .collect(
            Collectors.joining(
                ",", "{\"resourceType\":\"Bundle\",\"type\":\"" + type + "\",\"entry\":[", "]}"));
  }

  /** In two Bundles. */
  private static String parameters(History history, List<String> lines) {
    int half = lines.size() / 2;
    return """
        {"resourceType":"Parameters","parameter":[
         {"name":"start","valueDate":"%s"},{"name":"end","valueDate":"%s"},
         {"name":"resource","resource":%s},{"name":"resource","resource":%s}]}"""
        .formatted(
            history.firstDate(),
            history.lastDate(),
            bundle("collection", lines.subList(0, half)),
            bundle("collection", lines.subList(half, lines.size())));
  }

  /** Profiles are another test's concern, and slow. */
  private static final class Unvalidated implements ProfileValidator {
    @Override
    public List<Finding> validate(byte[] json, List<String> profiles) {
      return List.of();
    }

    @Override
    public boolean knows(String profile) {
      return true;
    }
  }
}
