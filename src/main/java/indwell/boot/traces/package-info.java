/** Spans by OpenTelemetry's SDK, and how they get to a collector (docs/traces.md). */
@org.jspecify.annotations.NullMarked
package indwell.boot.traces;
