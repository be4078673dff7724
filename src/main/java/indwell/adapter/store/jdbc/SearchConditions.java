package indwell.adapter.store.jdbc;

import indwell.port.SearchCondition;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchCondition.HasText;
import indwell.port.SearchCondition.HasTime;
import indwell.port.SearchCondition.IsMissing;
import indwell.port.TimeTest;

/**
 * Writes conditions on search parameters in SQL, about a row {@code r} of table {@code resource}.
 */
final class SearchConditions {
  private static final String WRITTEN = "_lastUpdated";

  private final Condition sql;
  private final FoundBy foundBy;

  SearchConditions(Condition sql) {
    this.sql = sql;
    this.foundBy = sql.dialect().foundBy();
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
      foundBy.has(sql, asked);
    }
    sql.sql(")");
  }

  private void write(HasText asked) {
    sql.sql(
        "EXISTS (SELECT 1 FROM search_code i WHERE i.reference = r.reference AND i.parameter = ?"
            + " AND (1 = 0",
        asked.parameter());
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
      sql.sql(" OR ((");
      times(test, written ? "r.last_updated" : "i.low", written ? "r.last_updated + 1" : "i.high");
      sql.sql(")");
      if (!written && foundBy.boundsTimes(asked.parameter())) {
        bounds(test);
      }
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

  /** What holds of the bounds of all times of a resource if the test holds of one of them. */
  private void bounds(TimeTest test) {
    switch (test.prefix()) {
      case EQ, AP -> sql.sql(" AND i.last >= ?", test.low()).sql(" AND i.first <= ?", test.high());
      case GE -> sql.sql(" AND i.last >= ?", test.low());
      case GT, SA -> sql.sql(" AND i.last >= ?", test.high());
      case LE -> sql.sql(" AND i.first <= ?", test.high());
      case LT, EB -> sql.sql(" AND i.first <= ?", test.low());
      case NE -> {
        // Holds of times anywhere.
      }
    }
  }

  private void within(TimeTest test, String low, String high) {
    sql.sql("(" + low + " >= ?", test.low()).sql(" AND " + high + " <= ?)", test.high());
  }

  private void write(IsMissing asked) {
    sql.sql(asked.missing() ? "NOT (" : "(");
    if (asked.parameter().equals(WRITTEN)) {
      sql.sql("1 = 1");
    } else if (asked.parameter().equals(FoundBy.IDENTIFIER)) {
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
