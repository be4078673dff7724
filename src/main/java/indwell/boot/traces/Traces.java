package indwell.boot.traces;

import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.trace.NoTracing;
import indwell.port.trace.Tracing;
import io.opentelemetry.api.common.Attributes;
import io.opentelemetry.sdk.resources.Resource;
import java.util.Optional;

/** Spans on their way to a collector, or none. */
public final class Traces implements AutoCloseable {
  /** Nothing is recorded. */
  public static final Traces OFF = new Traces(Optional.empty());

  private final Optional<OtelTracing> on;

  private Traces(Optional<OtelTracing> on) {
    this.on = on;
  }

  /**
   * Sends spans by those settings.
   *
   * @param version of the service
   * @param instance a name that no other process has
   */
  public static Traces to(TraceSettings settings, String version, String instance) {
    Attributes service =
        Attributes.builder()
            .put("service.name", "indwell")
            .put("service.version", version)
            .put("service.instance.id", instance)
            .build();
    Resource resource = Resource.getDefault().merge(Resource.create(service));
    return new Traces(Optional.of(new OtelTracing(settings, resource)));
  }

  /** Begins spans. */
  public Tracing tracing() {
    return on.<Tracing>map(tracing -> tracing).orElse(NoTracing.OFF);
  }

  /** A store whose transactions are spans; the store itself where nothing is recorded. */
  public ClinicalStore of(ClinicalStore store) {
    return on.isPresent() ? new TracedStore(store) : store;
  }

  /** A validator whose calls are spans; the validator itself where nothing is recorded. */
  public ProfileValidator of(ProfileValidator validator) {
    return on.isPresent() ? new TracedValidator(validator) : validator;
  }

  /** What became of the spans. */
  public SpanCounts counts() {
    return on.map(OtelTracing::counts).orElse(SpanCounts.NONE);
  }

  /** Sends what waits, for a while. */
  @Override
  public void close() {
    on.ifPresent(OtelTracing::close);
  }
}
