package indwell.adapter.store.jdbc;

import indwell.domain.event.EventKey;
import java.util.SortedSet;

/**
 * One transaction that may write. What is read between the locks and the first write is the newest
 * committed state, so whoever holds the locks reads what only they can change.
 */
public interface WriteSession extends AutoCloseable {

  /** Holds the events until the session closes. */
  void lockEvents(SortedSet<EventKey> keys);

  /** Holds the patients until the session closes. */
  void lockPatients(SortedSet<String> patientIds);

  /** For reading; sees what {@link #writing()} wrote. */
  Sql reading();

  /** For writing. */
  Sql writing();

  /** Makes all that was written durable. */
  void commit();

  /** Takes back what was not committed and lets the locks go. */
  @Override
  void close();
}
