package indwell.faults;

import indwell.port.ClinicalStore;
import indwell.usecase.audit.AuditTrail;
import indwell.usecase.audit.KeepAudit;
import indwell.web.fhir.ReadServer;
import java.util.Map;
import java.util.function.Consumer;

/**
 * A process that answers questions over HTTP. It is there to be killed, or ends itself at a named
 * point between a row and its answer.
 */
final class AnswerVictim {
  private AnswerVictim() {}

  /**
   * Says where it listens and then nothing more.
   *
   * @param args as those of {@link Victim}; {@code rows=none} keeps no trail, so that it is seen
   *     that what is missing is found
   */
  public static void main(String[] args) throws Exception {
    Map<String, String> options = Victim.options(args);
    Consumer<Point> reached = Victim.ending(options);
    ClinicalStore store = Victim.open(options.get("kind"), options.get("where"));
    AuditTrail trail =
        options.containsKey("rows")
            ? AuditTrail.NONE
            : new KeepAudit(new FallingStore(store, reached, Point.BEFORE_ROW, Point.AFTER_ROW));
    System.out.println(new ReadServer(store, trail).base());
    Thread.currentThread().join();
  }
}
