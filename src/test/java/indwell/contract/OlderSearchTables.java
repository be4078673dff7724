package indwell.contract;

import java.util.List;

/** What a database of PostgreSQL had in the place of V043 and V046, for tests of upgrades. */
public final class OlderSearchTables {
  private static final String TEXT = " TEXT COLLATE \"C\" NOT NULL, ";

  /** Statements that leave a database with these tables, without a row. */
  public static final List<String> INSTEAD =
      List.of(
          "DROP TABLE found_by CASCADE",
          "CREATE TABLE resource_identifier (reference"
              + (TEXT + "system" + TEXT + "value" + TEXT)
              + "PRIMARY KEY (reference, system, value))",
          "CREATE TABLE search_code (reference"
              + (TEXT + "parameter" + TEXT + "system" + TEXT + "value" + TEXT)
              + "PRIMARY KEY (reference, parameter, system, value))",
          "CREATE TABLE search_time (reference"
              + (TEXT + "parameter" + TEXT)
              + "low BIGINT NOT NULL, high BIGINT NOT NULL,"
              + " PRIMARY KEY (reference, parameter, low, high))");

  private OlderSearchTables() {}
}
