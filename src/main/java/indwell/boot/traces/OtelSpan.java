package indwell.boot.traces;

import indwell.port.trace.NoSpan;
import indwell.port.trace.Span;
import io.opentelemetry.api.trace.SpanBuilder;
import io.opentelemetry.api.trace.SpanKind;
import io.opentelemetry.api.trace.StatusCode;
import io.opentelemetry.api.trace.Tracer;
import io.opentelemetry.api.trace.propagation.W3CTraceContextPropagator;
import io.opentelemetry.context.Context;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.atomic.AtomicInteger;

/** A span of the SDK. */
final class OtelSpan implements Span {
  /**
   * Parts of one request or task, so that a stream of hours stays a trace that can be looked at.
   */
  static final int MOST_PARTS = 200;

  private final Tracer tracer;
  private final io.opentelemetry.api.trace.Span span;

  /** Parts that may still begin, in all of the request. */
  private final AtomicInteger room;

  private OtelSpan(Tracer tracer, io.opentelemetry.api.trace.Span span, AtomicInteger room) {
    this.tracer = tracer;
    this.span = span;
    this.room = room;
  }

  /** One that is no part of another. */
  static OtelSpan first(Tracer tracer, SpanBuilder builder) {
    return new OtelSpan(tracer, builder.startSpan(), new AtomicInteger(MOST_PARTS));
  }

  @Override
  public Span part(String name) {
    return room.getAndUpdate(left -> Math.max(left - 1, 0)) > 0
        ? below(name, SpanKind.INTERNAL)
        : NoSpan.NONE;
  }

  @Override
  public Span call(String name) {
    return below(name, SpanKind.CLIENT);
  }

  private OtelSpan below(String name, SpanKind kind) {
    return new OtelSpan(
        tracer,
        tracer.spanBuilder(name).setSpanKind(kind).setParent(Context.root().with(span)).startSpan(),
        room);
  }

  @Override
  public String trace() {
    return span.getSpanContext().getTraceId();
  }

  @Override
  public Map<String, String> headers() {
    Map<String, String> headers = new HashMap<>();
    W3CTraceContextPropagator.getInstance()
        .inject(
            Context.root().with(span),
            headers,
            (into, name, value) -> {
              if (into != null) {
                into.put(name, value);
              }
            });
    return headers;
  }

  @Override
  public void name(String name) {
    span.updateName(name);
  }

  @Override
  public void note(String key, String value) {
    span.setAttribute(key, value);
  }

  @Override
  public void note(String key, long value) {
    span.setAttribute(key, value);
  }

  @Override
  public void linkTo(Span other) {
    if (other instanceof OtelSpan known) {
      span.addLink(known.span.getSpanContext());
    }
  }

  @Override
  public void failed(String what) {
    span.setAttribute("error.type", what);
    span.setStatus(StatusCode.ERROR);
  }

  @Override
  public void end() {
    span.end();
  }
}
