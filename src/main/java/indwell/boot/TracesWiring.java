package indwell.boot;

import indwell.boot.traces.TraceSettings;
import indwell.boot.traces.Traces;
import indwell.port.trace.Tracing;
import jakarta.enterprise.context.Dependent;
import jakarta.enterprise.inject.Produces;
import jakarta.inject.Singleton;
import java.util.UUID;
import org.eclipse.microprofile.config.inject.ConfigProperty;

/** Makes what requests are traced with. */
@Dependent
public class TracesWiring {

  /** Closed by {@link Startup}, when everybody else has stopped. */
  @Produces
  @Singleton
  Traces traces(
      IndwellConfig config, @ConfigProperty(name = "quarkus.application.version") String version) {
    IndwellConfig.Traces traces = config.traces();
    return TraceSettings.read(traces.endpoint(), traces.ratio(), traces.headers())
        .map(settings -> Traces.to(settings, version, UUID.randomUUID().toString()))
        .orElse(Traces.OFF);
  }

  @Produces
  @Singleton
  Tracing tracing(Traces traces) {
    return traces.tracing();
  }
}
