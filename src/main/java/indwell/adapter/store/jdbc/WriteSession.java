package indwell.adapter.store.jdbc;

import indwell.domain.event.EventKey;
import java.util.List;
import java.util.SortedSet;

/**
 * One transaction that may write. What is read between the locks and the first write is the newest
 * committed state, so whoever holds the locks reads what only they can change.
 */
public interface WriteSession extends AutoCloseable {

  /** How it asks. */
  Dialect dialect();

  /**
   * Holds the events until the session closes, as soon as the steps have run; without steps they
   * are held at once.
   */
  List<Step> lockEvents(SortedSet<EventKey> keys);

  /** The same for patients. */
  List<Step> lockPatients(SortedSet<String> patientIds);

  /** Takes the steps, as {@link #reading()} would. */
  void run(List<Step> steps);

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
