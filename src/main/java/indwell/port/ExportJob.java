package indwell.port;

import java.time.Instant;
import java.util.List;

/**
 * An export that was ordered.
 *
 * @param id cannot be guessed
 * @param transactionTime settled: what stood then is what is exported
 * @param expiresAt when it is forgotten and its files go; {@link Instant#MAX} until it is over
 * @param files empty until it is finished
 */
public record ExportJob(
    String id,
    ExportOrder order,
    Instant transactionTime,
    State state,
    Instant expiresAt,
    List<ExportFile> files) {
  public ExportJob {
    files = List.copyOf(files);
  }

  /** How far it is. */
  public enum State {
    UNFINISHED,
    FINISHED,
    FAILED
  }

  /** The same job when it is over. */
  public ExportJob over(State how, Instant expires, List<ExportFile> made) {
    return new ExportJob(id, order, transactionTime, how, expires, made);
  }
}
