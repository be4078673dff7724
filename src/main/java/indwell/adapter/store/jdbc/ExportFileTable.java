package indwell.adapter.store.jdbc;

import indwell.port.ExportFile;
import indwell.port.ExportFile.Kind;
import java.util.List;
import java.util.stream.IntStream;

/** Table {@code export_file}, as far as it is of one owner. */
record ExportFileTable(Sql sql, String owner) {
  private static final String OF_JOB =
      "SELECT kind, type, name, lines FROM export_file WHERE owner = ? AND job = ?"
          + " ORDER BY position";

  private static final String INSERT =
      "INSERT INTO export_file (owner, job, position, kind, type, name, lines)"
          + " VALUES (?, ?, ?, ?, ?, ?, ?)";

  private static final String REMOVE = "DELETE FROM export_file WHERE owner = ? AND job = ?";

  List<ExportFile> of(String job) {
    return sql.query(
        OF_JOB,
        statement -> {
          statement.setString(1, owner);
          statement.setString(2, job);
        },
        row ->
            new ExportFile(
                Kind.valueOf(row.getString(1)),
                row.getString(2),
                row.getString(3),
                row.getLong(4)));
  }

  void add(String job, List<ExportFile> files) {
    sql.batch(
        INSERT,
        IntStream.range(0, files.size()).boxed().toList(),
        (statement, position) -> {
          ExportFile file = files.get(position);
          statement.setString(1, owner);
          statement.setString(2, job);
          statement.setInt(3, position);
          statement.setString(4, file.kind().name());
          statement.setString(5, file.type());
          statement.setString(6, file.name());
          statement.setLong(7, file.count());
        });
  }

  void remove(String job) {
    sql.batch(
        REMOVE,
        List.of(job),
        (statement, id) -> {
          statement.setString(1, owner);
          statement.setString(2, id);
        });
  }
}
