package indwell.adapter.store.jdbc;

import indwell.port.ClinicalStore;
import indwell.port.ExportJobs;
import indwell.port.Outbox;
import indwell.port.ResourceText;
import indwell.port.Standing;
import indwell.port.StoreUnavailable;
import indwell.port.SurveillanceFacts;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.atomic.LongAdder;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.Supplier;

/** The store over SQL. Work that another transaction got in the way of is run again. */
public final class JdbcStore implements ClinicalStore {
  /**
   * Contention is about resources that several patients share, of which there are few; on a busy
   * machine the same two may still meet again and again. All pauses together are below two seconds.
   */
  private static final int ATTEMPTS = 24;

  private static final Duration PAUSE = Duration.ofMillis(5);

  private static final String BEAT = "UPDATE heartbeat SET beats = beats + 1 WHERE id = ?";

  private final Database database;
  private final LongAdder auditedRows = new LongAdder();

  public JdbcStore(Database database) {
    this.database = database;
  }

  @Override
  public <T> T write(Function<Writing, T> work) {
    return attempt(() -> writeOnce(work));
  }

  @Override
  public <T> T read(Function<Reading, T> work) {
    return readRows(sql -> work.apply(new JdbcReading(() -> sql)));
  }

  @Override
  public Instant settle(Instant at) {
    return attempt(
        () -> {
          try (WriteSession session = database.beginAlone()) {
            Instant settled = new SettledPast(session.writing()).moveTo(at);
            session.commit();
            return settled;
          }
        });
  }

  @Override
  public void standing(Standing question, Consumer<ResourceText> visit) {
    try {
      readOnce(
          sql -> {
            new StandingSearch(sql, question).each(visit);
            return question;
          });
    } catch (Contention contention) {
      throw contention.lasting();
    }
  }

  /**
   * The exports of one service.
   *
   * @param owner name of the folder that their files are in, among all that share the database
   */
  public ExportJobs exportJobs(String owner) {
    return new JdbcExportJobs(this, owner);
  }

  /** What another server has still to be told of the record. */
  public Outbox outbox() {
    return new JdbcOutbox(this, database);
  }

  /** Changes rows of other tables than those of the record, in one transaction. */
  <T> T writeRows(Function<Sql, T> work) {
    return attempt(
        () -> {
          try (WriteSession session = database.begin()) {
            T result = work.apply(session.writing());
            session.commit();
            return result;
          }
        });
  }

  /** Reads rows of other tables than those of the record, from one state. */
  <T> T readRows(Function<Sql, T> work) {
    return attempt(() -> readOnce(work));
  }

  /** The facts for surveillance that the same database keeps. */
  public SurveillanceFacts facts() {
    return new JdbcFacts(database, this::audited);
  }

  /** Counts rows of the audit trail that are durable now. */
  void audited(int rows) {
    auditedRows.add(rows);
  }

  /** Rows of the audit trail that this process has made durable. */
  public long auditedRows() {
    return auditedRows.sum();
  }

  /** Commits a change of one row: nothing less tells whether the next event can be kept. */
  @Override
  public boolean available() {
    try {
      return database.present() && attempt(this::beat);
    } catch (StoreUnavailable e) {
      return false;
    }
  }

  @Override
  public boolean crowded() {
    return database.crowded();
  }

  @Override
  public void close() {
    database.close();
  }

  private <T> T writeOnce(Function<Writing, T> work) {
    try (WriteSession session = database.begin()) {
      JdbcWriting writing = new JdbcWriting(session);
      T result = work.apply(writing);
      writing.flush();
      session.commit();
      audited(writing.audited());
      return result;
    }
  }

  private <T> T readOnce(Function<Sql, T> work) {
    Dialect dialect = database.dialect();
    try (Connection connection = database.reader()) {
      connection.setAutoCommit(false);
      try {
        return work.apply(new Sql(dialect, Connections.fixed(connection)));
      } finally {
        connection.rollback();
      }
    } catch (SQLException e) {
      throw Sql.failure(dialect, e);
    }
  }

  private boolean beat() {
    try (WriteSession session = database.begin()) {
      int[] rows =
          session.writing().batch(BEAT, List.of(1), (statement, id) -> statement.setInt(1, id));
      session.commit();
      return rows[0] == 1;
    }
  }

  /** Two threads that got in each other's way do not come back at the same moment. */
  private static Duration apart() {
    return Duration.ofMillis(Thread.currentThread().getId() % 7);
  }

  /** Runs the work, and again a few times when another transaction got in its way. */
  static <T> T attempt(Supplier<T> work) {
    for (int attempt = 1; ; attempt++) {
      try {
        return work.get();
      } catch (Contention contention) {
        if (attempt == ATTEMPTS) {
          throw contention.lasting();
        }
        LockSupport.parkNanos(PAUSE.multipliedBy(attempt).plus(apart()).toNanos());
      }
    }
  }
}
