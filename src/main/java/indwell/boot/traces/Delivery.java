package indwell.boot.traces;

import io.opentelemetry.sdk.common.CompletableResultCode;
import io.opentelemetry.sdk.trace.data.SpanData;
import io.opentelemetry.sdk.trace.export.SpanExporter;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.Collection;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/**
 * Sends spans, and says in the log when the collector begins and ceases to take them: once each,
 * and not what it or the way to it said, which may be anything.
 *
 * <p>The client is made with the first spans, by the thread that sends them, so that nobody waits
 * for it at the start.
 */
final class Delivery implements SpanExporter {
  private static final Logger LOG = System.getLogger(Delivery.class.getName());

  private final Supplier<SpanExporter> made;
  private final AtomicBoolean away = new AtomicBoolean();
  private @Nullable SpanExporter client;

  Delivery(Supplier<SpanExporter> made) {
    this.made = made;
  }

  @Override
  public CompletableResultCode export(Collection<SpanData> spans) {
    CompletableResultCode sent = client().export(spans);
    return sent.whenComplete(() -> told(sent.isSuccess()));
  }

  private synchronized SpanExporter client() {
    if (client == null) {
      client = made.get();
    }
    return client;
  }

  private void told(boolean taken) {
    if (away.compareAndSet(taken, !taken)) {
      if (taken) {
        LOG.log(Level.INFO, "Spans are taken again.");
      } else {
        LOG.log(Level.WARNING, "Spans are not taken by the collector; they are counted and lost.");
      }
    }
  }

  @Override
  public CompletableResultCode flush() {
    return CompletableResultCode.ofSuccess();
  }

  @Override
  public synchronized CompletableResultCode shutdown() {
    return client == null ? CompletableResultCode.ofSuccess() : client.shutdown();
  }
}
