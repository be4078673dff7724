package indwell.boot.traces;

import indwell.port.trace.Span;
import indwell.port.trace.TraceParent;
import indwell.port.trace.Tracing;
import io.opentelemetry.api.trace.SpanBuilder;
import io.opentelemetry.api.trace.SpanKind;
import io.opentelemetry.api.trace.Tracer;
import io.opentelemetry.api.trace.propagation.W3CTraceContextPropagator;
import io.opentelemetry.context.Context;
import io.opentelemetry.context.propagation.TextMapGetter;
import io.opentelemetry.exporter.otlp.http.trace.OtlpHttpSpanExporter;
import io.opentelemetry.exporter.otlp.http.trace.OtlpHttpSpanExporterBuilder;
import io.opentelemetry.sdk.common.InternalTelemetryVersion;
import io.opentelemetry.sdk.metrics.SdkMeterProvider;
import io.opentelemetry.sdk.resources.Resource;
import io.opentelemetry.sdk.trace.SdkTracerProvider;
import io.opentelemetry.sdk.trace.export.BatchSpanProcessor;
import io.opentelemetry.sdk.trace.export.SpanExporter;
import io.opentelemetry.sdk.trace.samplers.Sampler;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/**
 * Spans by OpenTelemetry's SDK. What has ended waits in a queue that has a bound, and what finds it
 * full is counted and lost; one thread sends, and nobody waits for it but a stop, for a while.
 */
final class OtelTracing implements Tracing, AutoCloseable {
  private static final String SCOPE = "indwell";
  private static final int MOST_WAITING = 2_048;
  private static final int MOST_AT_ONCE = 512;
  private static final Duration EVERY = Duration.ofSeconds(1);
  private static final Duration PATIENCE = Duration.ofSeconds(10);
  private static final Duration LAST_WORDS = Duration.ofSeconds(3);

  private final SpanLedger ledger = new SpanLedger();
  private final SdkMeterProvider meters;
  private final SdkTracerProvider provider;
  private final Tracer tracer;

  OtelTracing(TraceSettings settings, Resource service) {
    meters = SdkMeterProvider.builder().registerMetricReader(ledger).build();
    provider =
        SdkTracerProvider.builder()
            .setResource(service)
            .setSampler(Sampler.parentBased(Sampler.traceIdRatioBased(settings.ratio())))
            .addSpanProcessor(
                BatchSpanProcessor.builder(new Delivery(() -> client(settings)))
                    .setMaxQueueSize(MOST_WAITING)
                    .setMaxExportBatchSize(MOST_AT_ONCE)
                    .setScheduleDelay(EVERY)
                    .setExporterTimeout(PATIENCE)
                    .setMeterProvider(meters)
                    .setInternalTelemetryVersion(InternalTelemetryVersion.LATEST)
                    .build())
            .build();
    tracer = provider.get(SCOPE);
  }

  private SpanExporter client(TraceSettings settings) {
    OtlpHttpSpanExporterBuilder client =
        OtlpHttpSpanExporter.builder()
            .setEndpoint(settings.endpoint().toString())
            .setTimeout(PATIENCE)
            .setConnectTimeout(PATIENCE)
            .setMeterProvider(meters)
            .setInternalTelemetryVersion(InternalTelemetryVersion.LATEST);
    settings.headers().forEach(client::addHeader);
    return client.build();
  }

  @Override
  public Span request(Optional<TraceParent> parent, String state) {
    return OtelSpan.first(tracer, builder("HTTP", SpanKind.SERVER, caller(parent, state)));
  }

  @Override
  public Span task(String name) {
    return OtelSpan.first(tracer, builder(name, SpanKind.INTERNAL, Context.root()));
  }

  private SpanBuilder builder(String name, SpanKind kind, Context parent) {
    return tracer.spanBuilder(name).setSpanKind(kind).setParent(parent);
  }

  private static Context caller(Optional<TraceParent> parent, String state) {
    return parent
        .map(
            known ->
                W3CTraceContextPropagator.getInstance()
                    .extract(
                        Context.root(),
                        Map.of("traceparent", known.header(), "tracestate", state),
                        new FromMap()))
        .orElseGet(Context::root);
  }

  private static final class FromMap implements TextMapGetter<Map<String, String>> {
    @Override
    public @Nullable String get(@Nullable Map<String, String> headers, String name) {
      return headers == null ? null : headers.get(name);
    }
  }

  SpanCounts counts() {
    return ledger.counts();
  }

  /** Sends what waits, for three seconds at most. */
  @Override
  public void close() {
    provider.shutdown().join(LAST_WORDS.toMillis(), TimeUnit.MILLISECONDS);
    meters.close();
  }
}
