package indwell.adapter.store.jdbc;

import indwell.fhir.search.SearchValue;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Outcome;
import indwell.port.Audited;
import indwell.port.ResourceQuery;
import indwell.port.SearchCondition;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchCondition.HasText;
import indwell.port.SearchCondition.HasTime;
import indwell.port.SearchCondition.IsMissing;
import indwell.port.SearchOrder;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;

/** A {@link ResourceQuery} for AuditEvents in SQL, about a row {@code a} of table {@code audit}. */
final class AuditSearch {
  private static final String PATIENT = "Patient/";

  private final Sql sql;
  private final ResourceQuery query;

  AuditSearch(Sql sql, ResourceQuery query) {
    this.sql = sql;
    this.query = query;
  }

  List<Audited> page() {
    SearchOrder order = query.order();
    Condition statement = new Condition(sql.dialect()).sql(AuditTable.COLUMNS);
    where(statement);
    if (order.parameter().equals("_lastUpdated")) {
      statement.sql(" AND a.at <= ?", order.asOf());
    }
    query.afterId().ifPresent(id -> behind(statement, id));
    String direction = order.descending() ? " DESC" : "";
    statement.sql(" ORDER BY " + (order.isById() ? "" : "a.at" + direction + ", "));
    statement.sql("a.number" + direction + " LIMIT ?", query.limit());
    return sql.query(statement.text(), statement::bind, AuditTable::read);
  }

  long count() {
    Condition statement = new Condition(sql.dialect()).sql("SELECT count(*) FROM audit a");
    where(statement);
    return sql.query(statement.text(), statement::bind, row -> row.getLong(1)).get(0);
  }

  private void behind(Condition statement, String afterId) {
    SearchOrder order = query.order();
    String beyond = order.descending() ? " < ?" : " > ?";
    long number = Audited.number(afterId).orElse(0L);
    if (order.isById()) {
      statement.sql(" AND a.number" + beyond, number);
    } else {
      long at = order.after().orElse(0);
      statement.sql(" AND (a.at" + beyond, at).sql(" OR (a.at = ?", at);
      statement.sql(" AND a.number" + beyond + "))", number);
    }
  }

  private void where(Condition statement) {
    statement.sql(" WHERE 1 = 1");
    if (!query.ids().isEmpty()) {
      statement.sql(" AND (1 = 0");
      query.ids().stream()
          .flatMap(id -> Audited.number(id).stream())
          .forEach(number -> statement.sql(" OR a.number = ?", number));
      statement.sql(")");
    }
    if (!query.patientIds().isEmpty()) {
      statement.sql(" AND ").in("a.patient", query.patientIds());
    }
    for (SearchCondition condition : query.conditions()) {
      statement.sql(" AND ");
      write(statement, condition);
    }
  }

  private static void write(Condition statement, SearchCondition condition) {
    switch (condition.parameter()) {
      case "date", "_lastUpdated" -> time(statement, condition);
      case "action", "type", "subtype" ->
          oneOf(
              statement,
              "a.interaction",
              Interaction.values(),
              Enum::name,
              Interaction::found,
              condition);
      case "outcome" ->
          oneOf(
              statement,
              "a.outcome",
              Outcome.values(),
              Outcome::code,
              outcome -> List.of(outcome.value()),
              condition);
      case "altid" -> texts(statement, condition, List.of("a.client", "a.person"));
      case "address" -> begins(statement, condition);
      case "entity" -> entity(statement, condition);
      default -> throw new IllegalStateException("AuditEvents have no " + condition.parameter());
    }
  }

  /** Every row has a time. */
  private static void time(Condition statement, SearchCondition condition) {
    if (condition instanceof HasTime asked) {
      statement.sql("(1 = 0");
      asked
          .anyOf()
          .forEach(
              test -> {
                statement.sql(" OR (");
                new SearchConditions(statement).times(test, "a.at", "(a.at + 1)");
                statement.sql(")");
              });
      statement.sql(")");
    } else {
      statement.sql(
          condition.holds(List.of(new SearchValue.Dated(condition.parameter(), 0, 1)))
              ? "1 = 1"
              : "1 = 0");
    }
  }

  /** What a row can say in this column is known, so each possible value is asked. */
  private static <T> void oneOf(
      Condition statement,
      String column,
      T[] possible,
      Function<T, String> kept,
      Function<T, Collection<SearchValue>> values,
      SearchCondition condition) {
    statement.in(
        column,
        Arrays.stream(possible)
            .filter(one -> condition.holds(values.apply(one)))
            .map(kept)
            .toList());
  }

  /** Texts without a code system in one of some columns. */
  private static void texts(Condition statement, SearchCondition condition, List<String> columns) {
    if (condition instanceof HasCode asked) {
      List<String> plain =
          asked.anyOf().stream()
              .filter(code -> code.system().map(String::isEmpty).orElse(true))
              .flatMap(code -> code.value().stream())
              .toList();
      statement.sql(asked.not() ? "NOT (1 = 0" : "(1 = 0");
      columns.forEach(column -> statement.sql(" OR ").in(column, plain));
      statement.sql(")");
    } else {
      missing(statement, condition, columns);
    }
  }

  private static void missing(
      Condition statement, SearchCondition condition, List<String> columns) {
    boolean missing = condition instanceof IsMissing asked && asked.missing();
    statement.sql(missing ? "(" : "NOT (");
    statement.sql(String.join(" AND ", columns.stream().map(one -> one + " = ''").toList()));
    statement.sql(")");
  }

  private static void begins(Condition statement, SearchCondition condition) {
    if (condition instanceof HasText asked) {
      statement.sql("(1 = 0");
      for (String text : asked.anyOf()) {
        statement.sql(" OR (lower(a.address) >= ?", text);
        statement.sql(
            " AND lower(a.address) < ?)", text + Character.toString(Character.MAX_CODE_POINT));
      }
      statement.sql(" AND a.address <> '')");
    } else {
      missing(statement, condition, List.of("a.address"));
    }
  }

  private static void entity(Condition statement, SearchCondition condition) {
    if (condition instanceof HasCode asked) {
      List<String> references =
          asked.anyOf().stream().map(Code::value).flatMap(Optional::stream).toList();
      Stream<String> patients =
          references.stream()
              .filter(one -> one.startsWith(PATIENT))
              .map(one -> one.substring(PATIENT.length()));
      statement.sql("(").in("a.entity", references).sql(" OR ");
      statement.in("a.patient", patients.toList()).sql(")");
    } else {
      missing(statement, condition, List.of("a.entity", "a.patient"));
    }
  }
}
