package indwell.architecture.planted.usecase;

import io.opentelemetry.api.trace.Tracer;

/** Begins spans by the library itself. */
public record KnowsTraces(Tracer tracer) {}
