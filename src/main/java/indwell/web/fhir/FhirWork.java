package indwell.web.fhir;

import indwell.web.Exchange;
import indwell.web.Workers;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.atomic.AtomicInteger;

/** The workers of {@code /fhir}, and how many requests are with them or wait for one. */
final class FhirWork {
  /** More than there are connections that read, so that those who wait for one can be told. */
  private static final int WORKERS = 12;

  /** Requests that may wait for a worker. */
  private static final int MOST_IN_WORK = 512;

  private static final long STOP_MILLIS = 10_000;

  private final Workers workers = new Workers("indwell-fhir", WORKERS);
  private final AtomicInteger inWork = new AtomicInteger();

  /**
   * Has a request answered, at once or when a worker is free; turns it away when too many wait.
   *
   * @param release is run once, when the request needs its memory no longer
   */
  void take(Exchange exchange, Interaction interaction, FhirRequest request, Runnable release) {
    if (inWork.incrementAndGet() > MOST_IN_WORK) {
      inWork.decrementAndGet();
      release.run();
      exchange.send(TurnedAway.busy());
      return;
    }
    Runnable done =
        () -> {
          inWork.decrementAndGet();
          release.run();
        };
    try {
      workers.execute(
          () -> {
            try {
              exchange.sendFromWorker(Dispatcher.run(interaction, request));
            } finally {
              done.run();
            }
          });
    } catch (RejectedExecutionException e) {
      done.run();
      exchange.send(TurnedAway.stoppingAnswer());
    }
  }

  /** For who has work of its own, such as a body read line by line. */
  Workers workers() {
    return workers;
  }

  /** Takes nothing more and finishes what is in work. */
  void stop() {
    workers.stop(STOP_MILLIS);
  }
}
