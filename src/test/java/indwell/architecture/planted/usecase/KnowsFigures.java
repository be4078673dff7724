package indwell.architecture.planted.usecase;

import io.micrometer.core.instrument.Counter;

/** Counts by the library itself. */
public record KnowsFigures(Counter counter) {}
