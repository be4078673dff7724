package indwell.adapter.store.jdbc;

import indwell.port.ExportJob;
import indwell.port.ExportJob.State;
import indwell.port.ExportOrder;
import indwell.port.ExportOrder.Scope;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Set;

/** A row of table {@code export_job}. */
final class ExportJobRow {
  private static final String NAMES =
      "id, scope, group_id, types, type_filters, patients, since_at, until_at, separate_status,"
          + " base, url, remarks, transaction_time, state, expires_at, client";

  static final String COLUMNS = "SELECT " + NAMES + " FROM export_job";

  static final String INSERT =
      "INSERT INTO export_job (owner, "
          + NAMES
          + ") VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";

  private ExportJobRow() {}

  static void bind(PreparedStatement statement, String owner, ExportJob job) throws SQLException {
    ExportOrder order = job.order();
    statement.setString(1, owner);
    statement.setString(2, job.id());
    statement.setString(3, order.scope().name());
    statement.setString(4, order.groupId());
    statement.setString(5, TextList.join(order.types()));
    statement.setString(6, TextList.join(order.typeFilters()));
    statement.setString(7, TextList.join(List.copyOf(order.patientIds())));
    statement.setLong(8, SpanTime.toColumn(order.since()));
    statement.setLong(9, SpanTime.toColumn(order.until()));
    statement.setInt(10, order.separateStatus() ? 1 : 0);
    statement.setString(11, order.base());
    statement.setString(12, order.url());
    statement.setString(13, TextList.join(order.remarks()));
    statement.setLong(14, SpanTime.toColumn(job.transactionTime()));
    statement.setString(15, job.state().name());
    statement.setLong(16, SpanTime.toColumn(job.expiresAt()));
    statement.setString(17, order.client());
  }

  /** The job without its files. */
  static ExportJob read(ResultSet row) throws SQLException {
    ExportOrder order =
        new ExportOrder(
            Scope.valueOf(row.getString(2)),
            row.getString(3),
            TextList.split(row.getString(4)),
            TextList.split(row.getString(5)),
            Set.copyOf(TextList.split(row.getString(6))),
            SpanTime.fromColumn(row.getLong(7)),
            SpanTime.fromColumn(row.getLong(8)),
            row.getString(16),
            row.getInt(9) == 1,
            row.getString(10),
            row.getString(11),
            TextList.split(row.getString(12)));
    return new ExportJob(
        row.getString(1),
        order,
        SpanTime.fromColumn(row.getLong(13)),
        State.valueOf(row.getString(14)),
        SpanTime.fromColumn(row.getLong(15)),
        List.of());
  }
}
