package indwell.port;

import java.util.List;
import java.util.Optional;

/**
 * The durable list of exports of one service: those whose files lie in its folder. Implementations
 * are safe for use by many threads; every method may throw {@link StoreUnavailable}.
 */
public interface ExportJobs {

  /** Adds a job whose id is not there yet; it is durable when this returns. */
  void add(ExportJob job);

  /** The job with that id. */
  Optional<ExportJob> find(String id);

  /** All jobs, in the order of their transaction times. */
  List<ExportJob> all();

  /**
   * Ends an unfinished job.
   *
   * @param job as it is from now on
   * @return false, with nothing changed, when it is not there any more or is over already
   */
  boolean end(ExportJob job);

  /** Forgets a job; false when it is not there. */
  boolean remove(String id);
}
