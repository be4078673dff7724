package indwell.contract;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Agent;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditEntry.Origin;
import indwell.port.Audited;
import indwell.port.ClinicalStore;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.SearchCondition;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchCondition.HasText;
import indwell.port.SearchCondition.HasTime;
import indwell.port.SearchCondition.IsMissing;
import indwell.port.SearchOrder;
import indwell.port.TimeTest;
import indwell.port.TimeTest.Prefix;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What every audit trail means. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditRowsTest {
  private static final Instant T = Instant.parse("2026-03-10T12:00:00.123Z");
  private static final long MILLI = T.toEpochMilli();

  private static final Agent PERSON =
      new Agent(Kind.KNOWN, "pages", Optional.of("staff-4711"), List.of("nurse", "preventionist"));
  private static final Agent PROGRAM = new Agent(Kind.KNOWN, "ehr", Optional.empty(), List.of());
  private static final Agent NOBODY = new Agent(Kind.NOBODY, "", Optional.empty(), List.of());

  private static AuditEntry entry(
      long after,
      Agent agent,
      String address,
      Interaction interaction,
      String entity,
      String patient,
      int status,
      String reason) {
    return new AuditEntry(
        T.plusMillis(after),
        new Origin(agent, address, "GET /fhir/Patient/{}"),
        interaction,
        some(entity),
        some(patient),
        "_count=5&identifier",
        status,
        some(reason));
  }

  private static Optional<String> some(String text) {
    return text.isEmpty() ? Optional.empty() : Optional.of(text);
  }

  /** Two of one moment, and one that was late. */
  private static final List<AuditEntry> ROWS =
      List.of(
          entry(0, PROGRAM, "10.0.0.7", Interaction.READ, "Procedure/x", "p1", 200, ""),
          entry(1, NOBODY, "10.0.0.8", Interaction.OPERATION, "", "", 401, "IND-0401"),
          entry(1, PERSON, "::1", Interaction.CREATE, "Provenance/e1", "p2", 201, ""),
          entry(5, PERSON, "FE80::1", Interaction.VIEW, "", "p1", 500, ""),
          entry(3, PROGRAM, "10.0.0.7", Interaction.BATCH, "", "", 200, "IND-0403"),
          new AuditEntry(
              T.plusMillis(4),
              Origin.SERVICE,
              Interaction.DELETE,
              some("Provenance/e1"),
              some("p2"),
              "",
              200,
              Optional.empty()),
          entry(9, PERSON, "10.0.0.9", Interaction.LOGIN, "", "", 303, ""));

  @TempDir Path folder;

  private static void add(ClinicalStore store, List<AuditEntry> rows) {
    store.write(
        tx -> {
          tx.audit(rows);
          return 0;
        });
  }

  private static ResourceQuery query(
      Set<String> ids, Set<String> patients, SearchOrder order, SearchCondition... conditions) {
    return new ResourceQuery(
        "AuditEvent", ids, Set.of(), patients, List.of(conditions), order, Optional.empty(), 100);
  }

  @ParameterizedTest
  @EnumSource
  void rows_come_back_as_they_were_added(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      add(store, ROWS.subList(0, 3));
      add(store, List.of());
      add(store, ROWS.subList(3, 7));

      List<Audited> found =
          store.read(state -> state.audited(query(Set.of(), Set.of(), SearchOrder.BY_ID)));
      assertThat(found).extracting(Audited::entry).containsExactlyElementsOf(ROWS);
      assertThat(found).extracting(Audited::number).isSorted().doesNotHaveDuplicates();
    }
  }

  @ParameterizedTest
  @EnumSource
  void rows_of_a_transaction_that_fails_are_not_there(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      assertThatThrownBy(
              () ->
                  store.write(
                      tx -> {
                        tx.audit(ROWS);
                        assertThat(tx.countAudited(query(Set.of(), Set.of(), SearchOrder.BY_ID)))
                            .isEqualTo(ROWS.size());
                        throw new IllegalArgumentException("on purpose");
                      }))
          .hasMessageContaining("on purpose");

      long left =
          store.read(state -> state.countAudited(query(Set.of(), Set.of(), SearchOrder.BY_ID)));
      assertThat(left).isZero();
    }
  }

  private static HasCode code(String parameter, boolean not, String... values) {
    return new HasCode(
        parameter,
        Stream.of(values).map(one -> new Code(Optional.empty(), Optional.of(one))).toList(),
        not);
  }

  private static List<SearchCondition> conditions() {
    List<SearchCondition> all = new ArrayList<>();
    for (boolean not : List.of(false, true)) {
      all.add(code("action", not, "C", "E"));
      all.add(code("type", not, "rest"));
      all.add(code("subtype", not, "110122", "create"));
      all.add(code("outcome", not, "4", "8"));
      all.add(code("outcome", not, "9"));
      all.add(code("altid", not, "ehr", "staff-4711"));
    }
    for (String system :
        List.of(
            "",
            "http://hl7.org/fhir/restful-interaction",
            "urn:x",
            "http://hl7.org/fhir/audit-event-action")) {
      for (String parameter : List.of("subtype", "action", "altid")) {
        for (String value : List.of("", "create", "C", "ehr")) {
          if (system.isEmpty() && value.isEmpty()) {
            continue;
          }
          all.add(
              new HasCode(
                  parameter,
                  List.of(new Code(Optional.of(system), some(value))),
                  value.equals("C")));
        }
      }
    }
    all.add(code("entity", false, "Procedure/x", "Patient/p2"));
    all.add(code("entity", false, "Patient/p1"));
    all.add(new HasText("address", List.of("10.0.0.", "fe80")));
    for (boolean missing : List.of(true, false)) {
      for (String parameter : List.of("date", "action", "subtype", "altid", "address", "entity")) {
        all.add(new IsMissing(parameter, missing));
      }
    }
    for (Prefix prefix : Prefix.values()) {
      for (String parameter : List.of("date", "_lastUpdated")) {
        all.add(new HasTime(parameter, List.of(new TimeTest(prefix, MILLI + 1, MILLI + 4))));
      }
    }
    return all;
  }

  /** What a look at every row says, by the words of the port. */
  private static List<AuditEntry> looked(List<Audited> all, ResourceQuery query) {
    return all.stream()
        .filter(
            row ->
                query.isMetBy(
                    new ResourceKey("AuditEvent", row.id()),
                    row.entry().patient().orElse(""),
                    List.of(),
                    row.entry().at().toEpochMilli(),
                    row.entry().values()))
        .map(Audited::entry)
        .toList();
  }

  @ParameterizedTest
  @EnumSource
  void every_condition_finds_what_a_look_at_every_row_finds(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      add(store, ROWS);
      List<Audited> all =
          store.read(state -> state.audited(query(Set.of(), Set.of(), SearchOrder.BY_ID)));
      List<ResourceQuery> queries = new ArrayList<>();
      conditions().forEach(one -> queries.add(query(Set.of(), Set.of(), SearchOrder.BY_ID, one)));
      queries.add(query(Set.of(all.get(2).id(), "a9", "x"), Set.of(), SearchOrder.BY_ID));
      queries.add(query(Set.of("nobody"), Set.of(), SearchOrder.BY_ID));
      queries.add(query(Set.of(), Set.of("p1", "p9"), SearchOrder.BY_ID));
      queries.add(
          query(
              Set.of(),
              Set.of("p2"),
              SearchOrder.BY_ID,
              code("action", false, "D"),
              code("altid", true, "x")));

      int some = 0;
      for (ResourceQuery query : queries) {
        List<AuditEntry> expected = looked(all, query);
        some += expected.isEmpty() || expected.size() == ROWS.size() ? 0 : 1;
        List<Audited> rows = store.read(state -> state.audited(query));
        assertThat(rows)
            .as(query.toString())
            .extracting(Audited::entry)
            .containsExactlyElementsOf(expected);
        long count = store.read(state -> state.countAudited(query));
        assertThat(count).as(query.toString()).isEqualTo(expected.size());
      }
      assertThat(some).isGreaterThan(30);
    }
  }

  @ParameterizedTest
  @EnumSource
  void pages_of_any_size_give_every_row_once_in_order(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      add(store, ROWS);
      for (String parameter : List.of("_id", "date", "_lastUpdated")) {
        for (boolean descending : List.of(false, true)) {
          List<AuditEntry> whole = paged(store, parameter, descending, 100);
          assertThat(whole).containsExactlyInAnyOrderElementsOf(ROWS);
          if (!parameter.equals("_id")) {
            List<Instant> times = whole.stream().map(AuditEntry::at).toList();
            assertThat(times)
                .isSortedAccordingTo(
                    descending
                        ? java.util.Comparator.<Instant>reverseOrder()
                        : java.util.Comparator.<Instant>naturalOrder());
          }
          for (int size = 1; size < 4; size++) {
            assertThat(paged(store, parameter, descending, size))
                .as(parameter + descending + size)
                .isEqualTo(whole);
          }
        }
      }
    }
  }

  private static List<AuditEntry> paged(
      ClinicalStore store, String parameter, boolean descending, int size) {
    List<AuditEntry> rows = new ArrayList<>();
    Optional<String> after = Optional.empty();
    OptionalLong key = OptionalLong.empty();
    while (true) {
      ResourceQuery page =
          new ResourceQuery(
              "AuditEvent",
              Set.of(),
              Set.of(),
              Set.of(),
              List.of(),
              new SearchOrder(parameter, descending, Long.MAX_VALUE, key),
              after,
              size);
      List<Audited> found = store.read(state -> state.audited(page));
      found.forEach(row -> rows.add(row.entry()));
      if (found.size() < size) {
        return rows;
      }
      Audited last = found.get(found.size() - 1);
      after = Optional.of(last.id());
      key =
          parameter.equals("_id")
              ? OptionalLong.empty()
              : OptionalLong.of(last.entry().at().toEpochMilli());
    }
  }

  @ParameterizedTest
  @EnumSource
  void what_came_after_the_first_page_by_time_of_writing_is_left_out(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      add(store, ROWS);
      SearchOrder order = new SearchOrder("_lastUpdated", true, MILLI + 3, OptionalLong.empty());

      List<Audited> found = store.read(state -> state.audited(query(Set.of(), Set.of(), order)));
      assertThat(found)
          .extracting(row -> row.entry().at())
          .hasSize(4)
          .allMatch(at -> !at.isAfter(T.plusMillis(3)));
    }
  }
}
