package indwell.adapter.store.jdbc;

import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;

/** A row for each value, in three tables. */
public final class FoundByRows implements FoundBy {
  private static final Insert<Row<Coded>> CODES =
      Insert.<Row<Coded>>into("search_code")
          .text("reference", Row::reference)
          .text("parameter", row -> row.value().parameter())
          .text("system", row -> row.value().system())
          .text("value", row -> row.value().value());

  private static final Insert<Row<Dated>> TIMES =
      Insert.<Row<Dated>>into("search_time")
          .text("reference", Row::reference)
          .text("parameter", row -> row.value().parameter())
          .number("low", row -> row.value().low())
          .number("high", row -> row.value().high());

  private static final Insert<Row<Coded>> IDENTIFIERS =
      Insert.<Row<Coded>>into("resource_identifier")
          .text("reference", Row::reference)
          .text("system", row -> row.value().system())
          .text("value", row -> row.value().value());

  private record Row<V>(String reference, V value) {}

  @Override
  public List<String> tables() {
    return List.of("search_code", "search_time", "resource_identifier");
  }

  @Override
  public List<Insert.Rows<?>> rows(Collection<Found> found) {
    return List.of(
        CODES.rows(each(found, Found::codes)),
        TIMES.rows(each(found, Found::times)),
        IDENTIFIERS.rows(each(found, Found::identifiers)));
  }

  private static <V> List<Row<V>> each(Collection<Found> found, Function<Found, Stream<V>> values) {
    return found.stream()
        .flatMap(one -> values.apply(one).map(value -> new Row<>(one.reference(), value)))
        .toList();
  }

  /** Few resources share a reference or an identifier, so these are looked up first. */
  @Override
  public void has(Condition sql, HasCode asked) {
    if (asked.not() || SHARED_BY_MANY.contains(asked.parameter())) {
      candidateHas(sql, asked);
    } else {
      sql.sql("r.reference IN (SELECT i.reference FROM " + table(asked.parameter()) + " i WHERE ");
      codes(sql, asked);
    }
  }

  /** The same, asked of each candidate. */
  public void candidateHas(Condition sql, HasCode asked) {
    String table = table(asked.parameter());
    sql.sql("EXISTS (SELECT 1 FROM " + table + " i WHERE i.reference = r.reference AND ");
    codes(sql, asked);
  }

  private static String table(String parameter) {
    return parameter.equals(IDENTIFIER) ? "resource_identifier" : "search_code";
  }

  private static void codes(Condition sql, HasCode asked) {
    if (!asked.parameter().equals(IDENTIFIER)) {
      sql.sql("i.parameter = ? AND ", asked.parameter());
    }
    CodeForms forms = CodeForms.of(asked.anyOf());
    sql.sql("(1 = 0");
    if (!forms.full().isEmpty()) {
      // The values alone are looked up by index; the whole tokens then decide.
      List<String> values =
          forms.full().stream().map(Code::value).flatMap(Optional::stream).toList();
      sql.sql(" OR (").in("i.value", values).sql(" AND ");
      sql.in("i.system || '|' || i.value", forms.full().stream().map(FoundByRows::token).toList());
      sql.sql(")");
    }
    if (!forms.values().isEmpty()) {
      sql.sql(" OR ").in("i.value", forms.values());
    }
    if (!forms.systems().isEmpty()) {
      sql.sql(" OR ").in("i.system", forms.systems());
    }
    sql.sql("))");
  }

  private static String token(Code code) {
    return code.system().orElse("") + "|" + code.value().orElse("");
  }

  @Override
  public boolean boundsTimes(String parameter) {
    return false;
  }
}
