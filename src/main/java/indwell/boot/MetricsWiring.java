package indwell.boot;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.validation.VouchedShapes;
import indwell.boot.metrics.RecordFigures;
import indwell.boot.metrics.ServiceFigures;
import indwell.boot.traces.Traces;
import indwell.usecase.Overdue;
import indwell.usecase.audit.KeepAudit;
import indwell.usecase.export.Exports;
import indwell.usecase.publish.Publishing;
import indwell.web.Workers;
import indwell.web.edge.EdgeGuard;
import indwell.web.metrics.Figures;
import io.micrometer.prometheusmetrics.PrometheusConfig;
import io.micrometer.prometheusmetrics.PrometheusMeterRegistry;
import jakarta.enterprise.context.Dependent;
import jakarta.enterprise.inject.Produces;
import jakarta.enterprise.inject.Typed;
import jakarta.inject.Singleton;
import java.time.Clock;

/** Makes what the service is counted with. */
@Dependent
public class MetricsWiring {

  @Produces
  @Singleton
  @Typed(PrometheusMeterRegistry.class)
  PrometheusMeterRegistry registry() {
    return new PrometheusMeterRegistry(PrometheusConfig.DEFAULT);
  }

  @Produces
  @Singleton
  ServiceFigures serviceFigures(PrometheusMeterRegistry registry) {
    return new ServiceFigures(registry);
  }

  @Produces
  @Singleton
  Figures figures(
      IndwellConfig config,
      PrometheusMeterRegistry registry,
      ServiceFigures service,
      VouchedShapes shapes,
      Traces traces,
      EdgeGuard guard,
      KeepAudit trail,
      JdbcStore store,
      Overdue overdue,
      Publishing publishing,
      Exports exports,
      Clock clock) {
    ServiceFigures.vouched(registry, shapes, VouchedShapes::vouchedFor);
    ServiceFigures.audit(registry, trail, store, JdbcStore::auditedRows);
    ServiceFigures.traffic(registry, guard.traffic());
    ServiceFigures.spans(registry, traces);
    RecordFigures record =
        new RecordFigures(
            registry,
            overdue,
            publishing,
            exports,
            clock,
            config.metrics().storeEvery(),
            new Workers("indwell-figures", 1));
    return () -> {
      record.look();
      return registry.scrape();
    };
  }
}
