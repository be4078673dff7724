package indwell.web.fhir;

import indwell.fhir.map.MappingContext;
import indwell.fhir.map.MeasureReportMapper;
import indwell.port.ProfileValidator;
import indwell.usecase.CatheterDays;
import indwell.usecase.DescribeWard;
import indwell.usecase.DeviceDays;
import indwell.usecase.Overdue;
import indwell.usecase.PatientFlags;
import indwell.usecase.ReadResources;
import indwell.usecase.SearchResources;
import indwell.usecase.UnitReport;
import indwell.usecase.export.Exports;
import indwell.usecase.transaction.RecordBundle;
import indwell.web.access.Visit;
import io.quarkus.runtime.ShutdownEvent;
import io.vertx.core.Vertx;
import io.vertx.ext.web.Router;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.time.Clock;

/** Puts the FHIR interface on its path. */
@ApplicationScoped
public class FhirRoutes {
  private final FhirEndpoint endpoint;

  @Inject
  FhirRoutes(
      Vertx vertx,
      Clock clock,
      ReadResources resources,
      SearchResources search,
      PatientFlags flags,
      RecordBundle bundles,
      ProfileValidator validator,
      DeviceDays deviceDays,
      CatheterDays catheterDays,
      Overdue overdue,
      UnitReport unitReport,
      DescribeWard describeWard,
      MappingContext context,
      MeasureReportMapper reports,
      Exports exports) {
    endpoint =
        new FhirEndpoint(
            vertx,
            AllInteractions.of(
                resources,
                search,
                flags,
                bundles,
                validator,
                deviceDays,
                catheterDays,
                overdue,
                unitReport,
                describeWard,
                context,
                reports,
                exports,
                clock.instant()),
            clock);
  }

  void register(@Observes Router router) {
    router.route("/fhir").handler(context -> endpoint.handle(context.request(), Visit.of(context)));
    router
        .route("/fhir/*")
        .handler(context -> endpoint.handle(context.request(), Visit.of(context)));
  }

  void stop(@Observes ShutdownEvent event) {
    endpoint.stop();
  }
}
