package indwell.contract;

import static indwell.contract.Samples.all;
import static indwell.contract.Samples.identified;
import static indwell.contract.Samples.resource;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import indwell.port.ResourceQuery;
import indwell.port.SearchCondition;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchCondition.HasTime;
import indwell.port.SearchOrder;
import indwell.port.StoredResource;
import indwell.port.TimeTest;
import indwell.port.TimeTest.Prefix;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** How it searches resources. */
abstract class SearchesContract extends StoreChecks {
  @BeforeEach
  void some() {
    put(
        resource("Device", "b", 1, "pat-71", "s1|K-1", "s2|K-2"),
        resource("Device", "a", 1, "pat-72", "s1|K-2"),
        resource("Device", "Z", 1, "pat-71", "s1|K|3"),
        resource("Device", "c", 1, "pat-73"),
        resource("DeviceUseStatement", "a", 1, "pat-71", "s1|K-1"),
        resource("Devicf", "a", 1, "pat-71", "s1|K-1"));
  }

  private List<String> ids(ResourceQuery query) {
    List<String> ids = now().search(query).stream().map(s -> s.key().id()).toList();
    assertThat(now().count(query)).isEqualTo(ids.size());
    return ids;
  }

  @Test
  void ascend_by_id_in_code_point_order_within_the_type() {
    assertThat(ids(all("Device"))).containsExactly("Z", "a", "b", "c");
    assertThat(ids(all("Devic"))).isEmpty();
  }

  @Test
  void find_tokens_in_every_form() {
    assertThat(ids(identified("Device", "s1|K-1"))).containsExactly("b");
    assertThat(ids(identified("Device", "s1|K-2"))).containsExactly("a");
    assertThat(ids(identified("Device", "K-2"))).containsExactly("a", "b");
    assertThat(ids(identified("Device", "s1|"))).containsExactly("Z", "a", "b");
    assertThat(ids(identified("Device", "s1|K|3"))).containsExactly("Z");
    assertThat(ids(identified("Device", "|K-1"))).isEmpty();
    assertThat(ids(identified("Device", "s2|K-1"))).isEmpty();
    assertThat(ids(identified("Device", "|"))).isEmpty();
    assertThat(ids(identified("Device", "s1|K|3", "K-1", "s2|"))).containsExactly("Z", "b");
  }

  @Test
  void take_any_number_of_tokens() {
    String[] many =
        IntStream.rangeClosed(1, 3000).mapToObj(n -> "s1|K-" + n).toArray(String[]::new);
    assertThat(ids(identified("Device", many))).containsExactly("a", "b");
  }

  @Test
  void hold_all_conditions_together() {
    ResourceQuery query =
        new ResourceQuery(
            "Device",
            Set.of("a", "b", "Z"),
            Set.of("K-1", "s1|K|3", "s1|K-2"),
            Set.of("pat-71", "pat-74"),
            Optional.empty(),
            50);
    assertThat(ids(query)).containsExactly("Z", "b");
  }

  @Test
  void page_after_an_id_and_count_all_pages() {
    ResourceQuery second =
        new ResourceQuery("Device", Set.of(), Set.of(), Set.of(), Optional.of("a"), 1);
    assertThat(now().search(second))
        .containsExactly(resource("Device", "b", 1, "pat-71", "s1|K-1", "s2|K-2"));
    assertThat(now().count(second)).isEqualTo(4);
  }

  @Test
  void know_the_newest_version_only() {
    put(resource("Device", "b", 2, "pat-79", "s1|K-9"));
    assertThat(ids(identified("Device", "K-1"))).isEmpty();
    assertThat(now().search(identified("Device", "K-9")))
        .containsExactly(resource("Device", "b", 2, "pat-79", "s1|K-9"));
    assertThat(
            ids(
                new ResourceQuery(
                    "Device", Set.of(), Set.of(), Set.of("pat-71"), Optional.empty(), 9)))
        .containsExactly("Z");
  }

  /** Whatever characters stand in the values, and though the second time ends before it begins. */
  @Test
  void find_what_is_said_of_the_newest_version() {
    StoredResource odd = resource("Procedure", "p", 1, "pat-71", "s\\1|a\"b,{c}\\", "|NULL");
    List<SearchValue> values =
        List.of(
            new Coded("code", "s,{}\"", "x\\\"y=|z"),
            new Coded("status", "", "=\"'"),
            new Dated("date", 23, 29),
            new Dated("date", 53, 47));
    findBy(odd, values);
    assertThat(ids(identified("Procedure", odd.identifiers().get(0)))).containsExactly("p");
    assertThat(ids(identified("Procedure", "NULL"))).containsExactly("p");
    holdsAlike(values, new HasCode("code", List.of(code("s,{}\"", "x\\\"y=|z")), false));
    holdsAlike(values, new HasCode("code", List.of(code("s,{}", "x\\\"y=|z")), false));
    holdsAlike(values, new HasCode("status", List.of(code("", "=\"'")), false));
    for (Prefix prefix : Prefix.values()) {
      for (long low = 19; low < 60; low += 2) {
        for (long high = low + 1; high < 60; high += 2) {
          holdsAlike(values, new HasTime("date", List.of(new TimeTest(prefix, low, high))));
        }
      }
    }
    StoredResource next = resource("Procedure", "p", 2, "pat-71");
    findBy(next, List.of(new Coded("code", "", "other")));
    assertThat(ids(asking(new HasTime("date", List.of(new TimeTest(Prefix.NE, 1, 2)))))).isEmpty();
    assertThat(ids(identified("Procedure", "NULL"))).isEmpty();
    assertThat(ids(asking(new HasCode("code", List.of(code("", "other")), false))))
        .containsExactly("p");
  }

  private void findBy(StoredResource newest, List<SearchValue> values) {
    store()
        .write(
            writing -> {
              writing.put(newest);
              writing.findBy(newest, values);
              return true;
            });
  }

  private static Code code(String system, String value) {
    return new Code(Optional.of(system), Optional.of(value));
  }

  private void holdsAlike(List<SearchValue> values, SearchCondition asked) {
    assertThat(ids(asking(asked)))
        .as("%s", asked)
        .isEqualTo(asked.holds(values) ? List.of("p") : List.of());
  }

  private static ResourceQuery asking(SearchCondition asked) {
    return new ResourceQuery(
        "Procedure",
        Set.of(),
        Set.of(),
        Set.of(),
        List.of(asked),
        SearchOrder.BY_ID,
        Optional.empty(),
        50);
  }
}
