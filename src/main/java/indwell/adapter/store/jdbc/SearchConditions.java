package indwell.adapter.store.jdbc;

import indwell.port.SearchCondition;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchCondition.HasText;
import indwell.port.SearchCondition.HasTime;
import indwell.port.SearchCondition.IsMissing;
import indwell.port.TimeTest;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/**
 * Writes conditions on search parameters in SQL, about a row {@code r} of table {@code resource}.
 *
 * <p>Few resources share a reference or an identifier, so these are looked up first; many share a
 * status, so each candidate is asked for it instead.
 */
final class SearchConditions {
  private static final String IDENTIFIER = "identifier";
  private static final String WRITTEN = "_lastUpdated";
  private static final Set<String> SHARED_BY_MANY =
      Set.of("status", "category", "class", "type", "name");

  private final Condition sql;

  SearchConditions(Condition sql) {
    this.sql = sql;
  }

  void write(SearchCondition condition) {
    if (condition instanceof HasCode asked) {
      write(asked);
    } else if (condition instanceof HasText asked) {
      write(asked);
    } else if (condition instanceof HasTime asked) {
      write(asked);
    } else if (condition instanceof IsMissing asked) {
      write(asked);
    }
  }

  private void write(HasCode asked) {
    sql.sql(asked.not() ? "NOT (" : "(");
    if (asked.anyOf().isEmpty()) {
      sql.sql("1 = 0");
    } else {
      begin(asked.parameter(), !asked.not() && !SHARED_BY_MANY.contains(asked.parameter()));
      codes(asked.anyOf());
      sql.sql(")");
    }
    sql.sql(")");
  }

  /** Up to where the condition on {@code i.system} and {@code i.value} begins. */
  private void begin(String parameter, boolean lookUpFirst) {
    String table = parameter.equals(IDENTIFIER) ? "resource_identifier" : "search_code";
    sql.sql(
        lookUpFirst
            ? "r.reference IN (SELECT i.reference FROM " + table + " i WHERE "
            : "EXISTS (SELECT 1 FROM " + table + " i WHERE i.reference = r.reference AND ");
    if (!parameter.equals(IDENTIFIER)) {
      sql.sql("i.parameter = ? AND ", parameter);
    }
  }

  /** One list for each form of token, so that any number of tokens makes the same statement. */
  private void codes(List<Code> codes) {
    List<String> full = new ArrayList<>();
    List<String> fullValues = new ArrayList<>();
    List<String> valuesOnly = new ArrayList<>();
    List<String> systemsOnly = new ArrayList<>();
    for (Code code : codes) {
      if (code.system().isPresent() && code.value().isPresent()) {
        full.add(code.system().get() + "|" + code.value().get());
        fullValues.add(code.value().get());
      } else {
        code.value().ifPresent(valuesOnly::add);
        code.system().ifPresent(systemsOnly::add);
      }
    }
    sql.sql("(1 = 0");
    if (!full.isEmpty()) {
      // The values alone are looked up by index; the whole tokens then decide.
      sql.sql(" OR (").in("i.value", fullValues).sql(" AND ");
      sql.in("i.system || '|' || i.value", full).sql(")");
    }
    if (!valuesOnly.isEmpty()) {
      sql.sql(" OR ").in("i.value", valuesOnly);
    }
    if (!systemsOnly.isEmpty()) {
      sql.sql(" OR ").in("i.system", systemsOnly);
    }
    sql.sql(")");
  }

  private void write(HasText asked) {
    begin(asked.parameter(), false);
    sql.sql("(1 = 0");
    for (String text : asked.anyOf()) {
      sql.sql(" OR (i.value >= ?", text);
      // No character comes after this one, so no name that begins with the text comes after it.
      sql.sql(" AND i.value < ?)", text + Character.toString(Character.MAX_CODE_POINT));
    }
    sql.sql("))");
  }

  private void write(HasTime asked) {
    boolean written = asked.parameter().equals(WRITTEN);
    if (!written) {
      sql.sql(
          "EXISTS (SELECT 1 FROM search_time i WHERE i.reference = r.reference AND i.parameter = ?"
              + " AND ",
          asked.parameter());
    }
    sql.sql("(1 = 0");
    for (TimeTest test : asked.anyOf()) {
      sql.sql(" OR (");
      times(test, written ? "r.last_updated" : "i.low", written ? "r.last_updated + 1" : "i.high");
      sql.sql(")");
    }
    sql.sql(written ? ")" : "))");
  }

  /** A time between two expressions, the second exclusive. */
  void times(TimeTest test, String low, String high) {
    switch (test.prefix()) {
      case EQ -> within(test, low, high);
      case NE -> {
        sql.sql("NOT (");
        within(test, low, high);
        sql.sql(")");
      }
      case GT -> sql.sql(high + " > ?", test.high());
      case LT -> sql.sql(low + " < ?", test.low());
      case GE -> {
        within(test, low, high);
        sql.sql(" OR " + high + " > ?", test.high());
      }
      case LE -> {
        within(test, low, high);
        sql.sql(" OR " + low + " < ?", test.low());
      }
      case SA -> sql.sql(low + " >= ?", test.high());
      case EB -> sql.sql(high + " <= ?", test.low());
      case AP -> sql.sql(low + " < ?", test.high()).sql(" AND " + high + " > ?", test.low());
    }
  }

  private void within(TimeTest test, String low, String high) {
    sql.sql("(" + low + " >= ?", test.low()).sql(" AND " + high + " <= ?)", test.high());
  }

  private void write(IsMissing asked) {
    sql.sql(asked.missing() ? "NOT (" : "(");
    if (asked.parameter().equals(WRITTEN)) {
      sql.sql("1 = 1");
    } else if (asked.parameter().equals(IDENTIFIER)) {
      sql.sql("EXISTS (SELECT 1 FROM resource_identifier i WHERE i.reference = r.reference)");
    } else {
      exists("search_code", asked.parameter());
      sql.sql(" OR ");
      exists("search_time", asked.parameter());
    }
    sql.sql(")");
  }

  private void exists(String table, String parameter) {
    sql.sql(
        "EXISTS (SELECT 1 FROM "
            + table
            + " i WHERE i.reference = r.reference AND i.parameter = ?)",
        parameter);
  }
}
