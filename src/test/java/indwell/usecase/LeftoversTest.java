package indwell.usecase;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.SharedValidator;
import indwell.fhir.map.EnteredInError;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ResourceQuery;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.Resource;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * What corrected and withdrawn versions leave behind, entered in error, is the same in whatever
 * order the versions of an event come.
 *
 * <p>Source: the contract, section 2 (the same set of events gives the same current resources) and
 * section 3 (what no current event makes any more becomes {@code entered-in-error}).
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class LeftoversTest {
  private static final Instant NOW = Instant.parse("2026-04-10T12:00:00Z");
  private static final MappingContext BERLIN = new MappingContext(ZoneId.of("Europe/Berlin"));

  /** What stands whatever becomes of the event in question. */
  private static final List<String> STANDING =
      List.of(
          event("a", 1, "patient-admitted", "P", "01T08", "\"ward\":\"A\""),
          event("w", 1, "weight-measured", "P", "01T09", "\"kg\":70"),
          event("u", 1, "urine-measured", "P", "03T09", urine(100)));

  private static final String WITHDRAWN = "withdrawn";

  private static Stream<Arguments> sets() {
    return Stream.of(
        set("an insertion, withdrawn", inserted(1, "c1", 100), WITHDRAWN),
        set("corrected and withdrawn", inserted(1, "c1", 100), inserted(2, "c1", 200), WITHDRAWN),
        set(
            "a volume taken out",
            inserted(1, "c1", 100),
            inserted(2, "c1", 200),
            inserted(3, "c1")),
        set(
            "out, and in again",
            inserted(1, "c1", 100),
            inserted(2, "c1"),
            inserted(3, "c1", 9),
            WITHDRAWN),
        set("another catheter", inserted(1, "c1", 100), inserted(2, "c2", 100), WITHDRAWN),
        set("revived", inserted(1, "c1", 100), WITHDRAWN, inserted(3, "c2")),
        set("withdrawn twice", inserted(1, "c1", 100), WITHDRAWN, inserted(3, "c2"), WITHDRAWN),
        set(
            "without, between",
            inserted(1, "c1", 100),
            inserted(2, "c1", 200),
            inserted(3, "c1"),
            WITHDRAWN),
        set("another kind", inserted(1, "c1", 100), one(2, "weight-measured", "P", "\"kg\":71")),
        set(
            "a weight that a rate was worked out with",
            one(1, "weight-measured", "Q", "\"kg\":71"),
            one(2, "weight-measured", "P", "\"kg\":72"),
            WITHDRAWN),
        set(
            "another patient",
            one(1, "urine-measured", "Q", urine(100)),
            one(2, "urine-measured", "P", urine(200))),
        set(
            "a measurement",
            one(1, "urine-measured", "P", urine(100)),
            one(2, "urine-measured", "P", urine(200)),
            WITHDRAWN),
        set(
            "a stay of its own",
            event("e", 1, "patient-admitted", "Q", "02T10", "\"ward\":\"B\""),
            event("e", 2, "patient-admitted", "Q", "02T11", "\"ward\":\"C\""),
            WITHDRAWN),
        set(
            "an exchange",
            one(
                1,
                "catheter-exchanged",
                "P",
                "\"catheterId\":\"c0\",\"replacement\":" + placing("c1", 9)),
            one(2, "catheter-removed", "P", "\"catheterId\":\"c0\""),
            WITHDRAWN));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("sets")
  void every_order_leaves_the_same(String name, List<String> versions) {
    Map<String, String> inOrder = recorded(versions);

    assertThat(inOrder.values()).anyMatch(json -> json.contains("\"entered-in-error\""));
    for (List<String> order : orders(versions)) {
      assertThat(recorded(order)).as("%s", order).isEqualTo(inOrder);
    }
  }

  /** Contract, section 2: a withdrawal that arrives first is recorded with no resources. */
  @Test
  void a_withdrawal_that_comes_first_makes_nothing_and_what_it_took_back_is_kept_in_error() {
    try (ClinicalStore store = new MemoryStore()) {
      EventResult withdrawal = take(store, withdrawal(2));
      assertThat(withdrawal.outcome()).isEqualTo(Outcome.RECORDED);
      assertThat(withdrawal.resources()).isEmpty();
      assertThat(current(store)).isEmpty();

      EventResult late = take(store, inserted(1, "c1", 100));

      assertThat(late.outcome()).isEqualTo(Outcome.SUPERSEDED);
      assertThat(late.resources()).isEmpty();
      assertThat(resources(store))
          .filteredOn(one -> !Set.of("Patient", "Location").contains(one.fhirType()))
          .isNotEmpty()
          .allMatch(EnteredInError::isMarked);
    }
  }

  /** A late version changes nothing of what stands. */
  @Test
  void what_the_current_version_makes_stays_as_it_is() {
    try (ClinicalStore store = new MemoryStore()) {
      take(store, inserted(2, "c1", 200));
      Map<String, String> before = current(store);

      take(store, inserted(1, "c1", 100));

      assertThat(current(store)).isEqualTo(before);
    }
  }

  private static Arguments set(String name, String... versions) {
    List<String> all = new ArrayList<>();
    for (int i = 0; i < versions.length; i++) {
      all.add(versions[i].equals(WITHDRAWN) ? withdrawal(i + 1) : versions[i]);
    }
    return Arguments.of(name, all);
  }

  private static List<List<String>> orders(List<String> versions) {
    if (versions.isEmpty()) {
      return List.of(List.of());
    }
    List<List<String>> orders = new ArrayList<>();
    for (String first : versions) {
      List<String> others = new ArrayList<>(versions);
      others.remove(first);
      for (List<String> rest : orders(others)) {
        orders.add(Stream.concat(Stream.of(first), rest.stream()).toList());
      }
    }
    return orders;
  }

  private static Map<String, String> recorded(List<String> versions) {
    try (ClinicalStore store = new MemoryStore()) {
      STANDING.forEach(body -> take(store, body));
      for (String body : versions) {
        assertThat(take(store, body).outcome()).isIn(Outcome.RECORDED, Outcome.SUPERSEDED);
      }
      return current(store);
    }
  }

  private static EventResult take(ClinicalStore store, String body) {
    return new RecordEvents(store, SharedValidator.WARM, BERLIN)
        .record(EventBodies.line(body.getBytes(StandardCharsets.UTF_8), NOW), NOW);
  }

  /** All current resources, those entered in error too, without meta; Provenance aside. */
  private static Map<String, String> current(ClinicalStore store) {
    Map<String, String> current = new TreeMap<>();
    for (Resource resource : resources(store)) {
      resource.setId(resource.getIdPart());
      resource.setMeta(null);
      current.put(resource.fhirType() + "/" + resource.getIdPart(), FhirJson.encode(resource));
    }
    return current;
  }

  private static List<Resource> resources(ClinicalStore store) {
    return ReadResources.TYPES.stream()
        .filter(type -> !type.equals("Provenance"))
        .flatMap(
            type ->
                store
                    .read(
                        state ->
                            state.search(
                                new ResourceQuery(
                                    type, Set.of(), Set.of(), Set.of(), Optional.empty(), 1_000)))
                    .stream())
        .map(stored -> FhirJson.parse(stored.json()))
        .toList();
  }

  private static String inserted(int version, String catheter) {
    return one(version, "catheter-inserted", "P", placed(placing(catheter, 0)));
  }

  private static String inserted(int version, String catheter, int drainedMl) {
    return one(version, "catheter-inserted", "P", placed(placing(catheter, drainedMl)));
  }

  private static String placed(String placing) {
    return placing.substring(1, placing.length() - 1);
  }

  /** Without a drainage where it is nothing. */
  private static String placing(String catheter, int drainedMl) {
    return ("{\"catheterId\":\"%s\",\"route\":\"urethral\",\"sizeCh\":14,\"balloonFilledMl\":10,"
            + "\"indication\":\"acute-retention\"%s}")
        .formatted(catheter, drainedMl == 0 ? "" : ",\"urineReturnedMl\":" + drainedMl);
  }

  private static String urine(int millilitres) {
    return "\"from\":\"2026-03-02T04:00:00Z\",\"volumeMl\":" + millilitres;
  }

  private static String one(int version, String type, String patient, String details) {
    return event("e", version, type, patient, "02T10", details);
  }

  private static String withdrawal(int version) {
    return """
        {"source":"s","eventId":"e","version":%d,"status":"entered-in-error",\
        "type":"catheter-inserted","patient":{"system":"urn:p","value":"P"}}"""
        .formatted(version);
  }

  private static String event(
      String id, int version, String type, String patient, String at, String details) {
    return """
        {"source":"s","eventId":"%s","version":%d,"type":"%s","occurredAt":"2026-03-%s:00:00Z",\
        "patient":{"system":"urn:p","value":"%s"},"encounter":{"system":"urn:s","value":"S-%s"},\
        "details":{%s}}"""
        .formatted(id, version, type, at, patient, patient, details);
  }
}
