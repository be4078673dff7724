package indwell.usecase.transaction;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import indwell.adapter.store.memory.MemoryStore;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.Told;
import indwell.fhir.map.FhirJson;
import indwell.fhir.term.Extensions;
import indwell.port.ClinicalStore;
import indwell.usecase.transaction.Entry.Verb;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.BiConsumer;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.DateTimeType;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Resource;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * A time that names only a day, a month or a year is nowhere taken for an instant: a resource that
 * was sent with one is refused.
 *
 * <p>Source: https://hl7.org/fhir/R4/datatypes.html#dateTime allows partial times; the contract
 * (section 2) wants a date-time with offset.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PartialTimesTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  /** Year, month, day, and an instant in no zone. */
  private static final List<String> PARTIAL =
      List.of("2026", "2026-03", "2026-03-02", "2026-03-02T08:00:00");

  /**
   * Every time of every resource that the events make: profile, where it stands, how that reads.
   */
  private static final String TIMES =
      """
      catheter-stay | /extension/0/extension/2/valueDateTime | extension[0].extension[2].value
      catheter-stay | /extension/1/extension/2/valueDateTime | extension[1].extension[2].value
      catheter-stay | /extension/2/extension/2/valueDateTime | extension[2].extension[2].value
      catheter-stay | /period/start | period.start
      catheter-stay | /period/end | period.end
      catheter-stay | /location/0/period/start | location[0].period.start
      catheter-stay | /location/0/period/end | location[0].period.end
      catheter-stay | /location/1/period/start | location[1].period.start
      catheter-stay | /location/1/period/end | location[1].period.end
      catheter-insertion | /extension/0/extension/11/valueDateTime | extension[0].extension[11].value
      catheter-insertion | /performedDateTime | performed
      catheter-exchange | /performedDateTime | performed
      catheter-removal | /performedDateTime | performed
      catheter-securement-change | /performedDateTime | performed
      catheter-care-check | /performedDateTime | performed
      catheter-use | /timingPeriod/start | timing.start
      catheter-use | /timingPeriod/end | timing.end
      catheter-balloon-volume | /effectiveDateTime | effective
      catheter-initial-drainage | /effectiveDateTime | effective
      catheter-care-item | /effectiveDateTime | effective
      catheter-need-review | /effectiveDateTime | effective
      catheter-urine-output | /effectivePeriod/start | effective.start
      catheter-urine-output | /effectivePeriod/end | effective.end
      catheter-urine-rate | /effectivePeriod/start | effective.start
      catheter-urine-rate | /effectivePeriod/end | effective.end
      catheter-body-weight | /effectiveDateTime | effective
      catheter-specimen | /collection/collectedDateTime | collection.collected
      """;

  @Test
  void the_table_has_every_time_that_is_made() throws Exception {
    Set<String> made = new TreeSet<>();
    for (Resource resource : story()) {
      eachTime(tree(resource), (at, time) -> made.add(Bundled.profile(resource) + " | " + at));
    }

    Set<String> listed = new TreeSet<>();
    times().forEach(row -> listed.add(row.get()[0] + " | " + row.get()[1]));
    assertThat(listed).isEqualTo(made);
  }

  @ParameterizedTest
  @MethodSource("times")
  void a_time_that_is_no_instant_is_refused_by_name(String profile, String at, String path)
      throws Exception {
    for (String partial : PARTIAL) {
      List<Resource> story = story();
      int place = place(story, profile, at);
      List<Entry> entries = new ArrayList<>(Bundled.posted(story));
      entries.set(place, with(entries.get(place), at, partial));

      try (ClinicalStore store = new MemoryStore()) {
        Refused refused = TakenBundle.refusal(entries, store);

        assertThat(refused.status()).isEqualTo(422);
        assertThat(refused.issues())
            .containsExactly(
                Issue.error(
                    IssueCode.UNREADABLE_TIME,
                    "Bundle.entry[" + place + "].resource." + path,
                    "Time \""
                        + partial
                        + "\" of element "
                        + path
                        + " is unreadable; expected a date-time with seconds and an offset, such"
                        + " as 2026-03-01T08:30:00+01:00."));
        assertThat(TakenBundle.patients(store)).isEmpty();
      }
    }
  }

  @Test
  void the_story_itself_is_taken() {
    try (ClinicalStore store = new MemoryStore()) {
      assertThat(TakenBundle.take(Bundled.posted(story()), store))
          .extracting(Answer::status)
          .allMatch(status -> status == 201);
      assertThat(TakenBundle.patients(store)).hasSize(1);
    }
  }

  /** What happened stays at its time when somebody tells it anew by the day alone. */
  @Test
  void a_correction_to_a_day_alone_is_refused() {
    try (ClinicalStore store = new MemoryStore()) {
      TakenBundle.take(Bundled.posted(story()), store);
      Procedure removal =
          story().stream()
              .filter(one -> Bundled.profile(one).equals("catheter-removal"))
              .map(Procedure.class::cast)
              .findFirst()
              .orElseThrow();
      removal.setPerformed(new DateTimeType("2026-03-09"));
      Entry correction =
          Bundled.entry(0, Verb.PUT, "Procedure/" + removal.getIdPart(), null, removal);

      assertThat(TakenBundle.refusal(List.of(correction), store).issues())
          .extracting(Issue::code)
          .containsExactly(IssueCode.UNREADABLE_TIME);
    }
  }

  /** Elements that no event is made of, such as when a device expires, may name a day. */
  @Test
  void a_day_where_nothing_happened_is_no_fault() throws Exception {
    List<Resource> story = story();
    List<Entry> entries = new ArrayList<>(Bundled.posted(story));
    int stay = place(story, "catheter-stay", "/period/start");
    ObjectNode encounter = (ObjectNode) JSON.readTree(entries.get(stay).json().orElseThrow());
    ((ObjectNode) encounter.at("/location/0/period"))
        .putArray("extension")
        .addObject()
        .put("url", "https://other.example/planned")
        .put("valueDateTime", "2026-03");
    entries.set(stay, with(entries.get(stay), encounter));

    try (ClinicalStore store = new MemoryStore()) {
      assertThat(TakenBundle.take(entries, store)).extracting(Answer::status).containsOnly(201);
    }
  }

  private static Stream<Arguments> times() {
    return TIMES.lines().map(line -> Arguments.of((Object[]) line.split(" \\| ", -1)));
  }

  private static List<Resource> story() {
    Told told =
        new Told()
            .admitted("A", "01 08:00")
            .weighed("70", "01 09:00")
            .inserted("c1", "02 08:00")
            .urine("300", 6, "02 14:00")
            .stillNeeded("c1", "03 09:00")
            .moved("B", "04 08:00")
            .secured("c1", "04 09:00")
            .checked("c1", "04 10:00")
            .sampled("c1", "04 11:00")
            .exchanged("c1", "c2", "05 08:00")
            .removed("c2", "09 08:00")
            .discharged("10 08:00");
    List<Resource> resources = Bundled.resources(told.told(), Told.BERLIN);
    for (Resource one : resources) {
      if (Bundled.profile(one).equals("catheter-insertion")) {
        ((Procedure) one)
            .getExtensionByUrl(Extensions.PLACEMENT)
            .addExtension("surgeryEndedAt", new DateTimeType("2026-03-02T07:00:00+01:00"));
      }
    }
    return resources;
  }

  private static int place(List<Resource> story, String profile, String at) throws Exception {
    for (int i = 0; i < story.size(); i++) {
      if (Bundled.profile(story.get(i)).equals(profile)
          && !tree(story.get(i)).at(at).isMissingNode()) {
        return i;
      }
    }
    throw new AssertionError("No " + profile + at);
  }

  private static JsonNode tree(Resource resource) throws Exception {
    return JSON.readTree(FhirJson.encode(resource));
  }

  private static void eachTime(JsonNode node, BiConsumer<String, String> time) {
    eachTime("", node, time);
  }

  private static void eachTime(String at, JsonNode node, BiConsumer<String, String> time) {
    if (node instanceof ObjectNode object) {
      object.properties().forEach(one -> eachTime(at + "/" + one.getKey(), one.getValue(), time));
    } else if (node instanceof ArrayNode array) {
      for (int i = 0; i < array.size(); i++) {
        eachTime(at + "/" + i, array.get(i), time);
      }
    } else if (node.asText().matches("\\d{4}-\\d\\d-\\d\\dT.*")) {
      time.accept(at, node.asText());
    }
  }

  private static Entry with(Entry entry, String at, String time) throws Exception {
    JsonNode resource = JSON.readTree(entry.json().orElseThrow());
    int slash = at.lastIndexOf('/');
    ((ObjectNode) resource.at(at.substring(0, slash))).put(at.substring(slash + 1), time);
    return with(entry, resource);
  }

  private static Entry with(Entry entry, JsonNode resource) {
    return new Entry(
        entry.index(),
        entry.verb(),
        entry.url(),
        entry.fullUrl(),
        Optional.empty(),
        Optional.empty(),
        Optional.of(resource.toString().getBytes(StandardCharsets.UTF_8)));
  }
}
