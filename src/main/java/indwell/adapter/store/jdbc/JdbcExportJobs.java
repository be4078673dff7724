package indwell.adapter.store.jdbc;

import indwell.port.ExportFile;
import indwell.port.ExportJob;
import indwell.port.ExportJobs;
import java.util.List;
import java.util.Optional;

/** Tables {@code export_job} and {@code export_file}, as far as they are of one owner. */
final class JdbcExportJobs implements ExportJobs {
  private static final String OF_OWNER =
      ExportJobRow.COLUMNS + " WHERE owner = ? ORDER BY transaction_time, id";

  private static final String BY_ID = ExportJobRow.COLUMNS + " WHERE owner = ? AND id = ?";

  private static final String END =
      "UPDATE export_job SET state = ?, expires_at = ?"
          + " WHERE owner = ? AND id = ? AND state = 'UNFINISHED'";

  private static final String REMOVE = "DELETE FROM export_job WHERE owner = ? AND id = ?";

  private final JdbcStore store;
  private final String owner;

  JdbcExportJobs(JdbcStore store, String owner) {
    this.store = store;
    this.owner = owner;
  }

  @Override
  public void add(ExportJob job) {
    store.writeRows(
        sql ->
            sql.batch(
                ExportJobRow.INSERT,
                List.of(job),
                (statement, one) -> ExportJobRow.bind(statement, owner, one)));
  }

  @Override
  public Optional<ExportJob> find(String id) {
    return store.readRows(
        sql ->
            sql
                .query(
                    BY_ID,
                    statement -> {
                      statement.setString(1, owner);
                      statement.setString(2, id);
                    },
                    ExportJobRow::read)
                .stream()
                .findFirst()
                .map(job -> withFiles(sql, job)));
  }

  @Override
  public List<ExportJob> all() {
    return store.readRows(
        sql ->
            sql
                .query(OF_OWNER, statement -> statement.setString(1, owner), ExportJobRow::read)
                .stream()
                .map(job -> withFiles(sql, job))
                .toList());
  }

  @Override
  public boolean end(ExportJob job) {
    return store.writeRows(
        sql -> {
          boolean changed = endRow(sql, job);
          if (changed) {
            new ExportFileTable(sql, owner).add(job.id(), job.files());
          }
          return changed;
        });
  }

  @Override
  public boolean remove(String id) {
    return store.writeRows(
        sql -> {
          new ExportFileTable(sql, owner).remove(id);
          return one(
              sql.batch(
                  REMOVE,
                  List.of(id),
                  (statement, job) -> {
                    statement.setString(1, owner);
                    statement.setString(2, job);
                  }));
        });
  }

  private boolean endRow(Sql sql, ExportJob job) {
    return one(
        sql.batch(
            END,
            List.of(job),
            (statement, ended) -> {
              statement.setString(1, ended.state().name());
              statement.setLong(2, SpanTime.toColumn(ended.expiresAt()));
              statement.setString(3, owner);
              statement.setString(4, ended.id());
            }));
  }

  private ExportJob withFiles(Sql sql, ExportJob job) {
    List<ExportFile> files = new ExportFileTable(sql, owner).of(job.id());
    return job.over(job.state(), job.expiresAt(), files);
  }

  private static boolean one(int[] rows) {
    return rows[0] == 1;
  }
}
