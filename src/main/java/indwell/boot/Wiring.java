package indwell.boot;

import indwell.adapter.statistics.BrentRootFinder;
import indwell.adapter.statistics.LibraryPoissonCounts;
import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.validation.VouchedShapes;
import indwell.boot.metrics.MeteredValidator;
import indwell.boot.metrics.ServiceFigures;
import indwell.boot.traces.Traces;
import indwell.domain.surveillance.MidP;
import indwell.domain.surveillance.StandardisedRatios;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.MeasureReportMapper;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.SurveillanceFacts;
import indwell.port.trace.Tracing;
import indwell.usecase.CatheterDays;
import indwell.usecase.DescribeWard;
import indwell.usecase.DeviceDays;
import indwell.usecase.EnterAtBedside;
import indwell.usecase.Facility;
import indwell.usecase.InsertionRecord;
import indwell.usecase.KeepFacts;
import indwell.usecase.Overdue;
import indwell.usecase.PatientFlags;
import indwell.usecase.PatientStory;
import indwell.usecase.ReadResources;
import indwell.usecase.RecordEvents;
import indwell.usecase.ReviewCandidates;
import indwell.usecase.SearchResources;
import indwell.usecase.SharedCommits;
import indwell.usecase.UnitPractice;
import indwell.usecase.UnitReport;
import indwell.usecase.WardBoard;
import indwell.usecase.audit.KeepAudit;
import indwell.usecase.export.ExportFolder;
import indwell.usecase.export.ExportLimits;
import indwell.usecase.export.Exports;
import indwell.usecase.publish.Publishing;
import indwell.usecase.transaction.RecordBundle;
import indwell.web.access.AccessMode;
import indwell.web.access.ListedOrigins;
import indwell.web.edge.EdgeGuard;
import indwell.web.edge.EdgeLimits;
import indwell.web.fhir.ExportFilters;
import indwell.web.page.FormSeal;
import indwell.web.page.LoggedInRecorder;
import indwell.web.page.Recorders;
import indwell.web.page.TypedRecorder;
import jakarta.enterprise.context.Dependent;
import jakarta.enterprise.inject.Disposes;
import jakarta.enterprise.inject.Produces;
import jakarta.enterprise.inject.Typed;
import jakarta.inject.Singleton;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.time.Clock;
import java.util.List;
import java.util.UUID;

/** Makes the one of each kind that the service runs with. */
@Dependent
public class Wiring {

  /** The only clock; whoever needs the time is handed it, or reads this once a request. */
  @Produces
  @Singleton
  Clock clock() {
    return Clock.systemUTC();
  }

  @Produces
  @Singleton
  @Typed(JdbcStore.class)
  JdbcStore store(IndwellConfig config) {
    return Stores.open(config);
  }

  void close(@Disposes JdbcStore store) {
    store.close();
  }

  @Produces
  @Singleton
  @Typed(ClinicalStore.class)
  ClinicalStore clinicalStore(JdbcStore store, Traces traces) {
    return traces.of(store);
  }

  @Produces
  @Singleton
  SurveillanceFacts surveillanceFacts(JdbcStore store) {
    return store.facts();
  }

  @Produces
  @Singleton
  KeepFacts keepFacts(SurveillanceFacts facts, Facility facility) {
    return new KeepFacts(facts, facility);
  }

  /** Closed by {@link Startup}, before the store is. */
  @Produces
  @Singleton
  KeepAudit keepAudit(ClinicalStore store) {
    return new KeepAudit(store);
  }

  @Produces
  @Singleton
  ProfileValidator validator(ServiceFigures figures, Traces traces) {
    return traces.of(new MeteredValidator(WarmingValidator.ofThisProcess(), figures));
  }

  /** For what our own mapper writes, and for nothing else. */
  @Produces
  @Singleton
  @Typed(VouchedShapes.class)
  VouchedShapes vouchedShapes(ProfileValidator validator) {
    return new VouchedShapes(validator);
  }

  @Produces
  @Singleton
  Facility facility(IndwellConfig config) {
    return FacilitySettings.of(config);
  }

  @Produces
  @Singleton
  MappingContext mappingContext(Facility facility) {
    return new MappingContext(facility.calendar().zone());
  }

  @Produces
  @Singleton
  RecordEvents recordEvents(
      ClinicalStore store,
      VouchedShapes ownResources,
      MappingContext context,
      ServiceFigures figures) {
    return new RecordEvents(store, ownResources, context, figures, System::nanoTime);
  }

  @Produces
  @Singleton
  SharedCommits sharedCommits(RecordEvents recordEvents) {
    return new SharedCommits(recordEvents);
  }

  @Produces
  @Singleton
  RecordBundle recordBundle(
      ClinicalStore store,
      ProfileValidator validator,
      VouchedShapes ownResources,
      MappingContext context,
      ServiceFigures figures) {
    return new RecordBundle(store, validator, ownResources, context, figures::bundle);
  }

  @Produces
  @Singleton
  ReadResources readResources(ClinicalStore store) {
    return new ReadResources(store);
  }

  @Produces
  @Singleton
  PatientFlags patientFlags(ClinicalStore store, Facility facility, MappingContext context) {
    return new PatientFlags(store, facility, context);
  }

  @Produces
  @Singleton
  SearchResources searchResources(ClinicalStore store, PatientFlags flags) {
    return new SearchResources(store, flags);
  }

  @Produces
  @Singleton
  DeviceDays deviceDays(ClinicalStore store, Facility facility) {
    return new DeviceDays(store, facility);
  }

  @Produces
  @Singleton
  MeasureReportMapper measureReportMapper(IndwellConfig config) {
    return new MeasureReportMapper(ReporterSettings.of(config));
  }

  @Produces
  @Singleton
  UnitReport unitReport(
      DeviceDays deviceDays, SurveillanceFacts facts, IndwellConfig config, Facility facility) {
    StandardisedRatios ratios =
        new StandardisedRatios(new MidP(new LibraryPoissonCounts(), new BrentRootFinder()));
    return new UnitReport(deviceDays, facts, ratios, PredictionSettings.of(config), facility);
  }

  @Produces
  @Singleton
  CatheterDays catheterDays(ClinicalStore store, Facility facility) {
    return new CatheterDays(store, facility);
  }

  @Produces
  @Singleton
  ReviewCandidates reviewCandidates(ClinicalStore store, Facility facility) {
    return new ReviewCandidates(store, facility);
  }

  @Produces
  @Singleton
  Overdue overdue(ClinicalStore store, Facility facility) {
    return new Overdue(store, facility);
  }

  /** Runs from {@link Startup} on. */
  @Produces
  @Singleton
  Exports exports(
      IndwellConfig config,
      JdbcStore store,
      SearchResources search,
      MappingContext context,
      Clock clock) {
    Path path =
        config
            .export()
            .folder()
            .map(Path::of)
            .orElseGet(() -> Path.of(config.dataDir()).resolve("exports"));
    ExportFolder folder = ExportFolder.open(path);
    return new Exports(
        store,
        store.exportJobs(folder.owner(UUID.randomUUID().toString())),
        folder,
        search,
        new ExportFilters(search, context.zone()),
        ExportLimits.of(config.export().mostUnfinished(), config.export().keep()),
        clock,
        () -> UUID.randomUUID().toString());
  }

  /** Runs from {@link Startup} on. */
  @Produces
  @Singleton
  Publishing publishing(
      IndwellConfig config, JdbcStore store, ClinicalStore traced, Tracing tracing, Clock clock) {
    PublishSettings settings = new PublishSettings(config.publish(), clock);
    return new Publishing(
        store.outbox(),
        settings
            .upstream()
            .map(upstream -> settings.publisher(traced, store.outbox(), upstream, tracing)),
        settings.target(),
        clock);
  }

  @Produces
  @Singleton
  DescribeWard describeWard(ClinicalStore store, ProfileValidator validator, Facility facility) {
    return new DescribeWard(store, validator, facility);
  }

  @Produces
  @Singleton
  WardBoard wardBoard(ClinicalStore store, Facility facility) {
    return new WardBoard(store, facility);
  }

  @Produces
  @Singleton
  EnterAtBedside enterAtBedside(ClinicalStore store, RecordEvents recordEvents) {
    return new EnterAtBedside(store, recordEvents);
  }

  @Produces
  @Singleton
  InsertionRecord insertionRecord(ClinicalStore store, Facility facility) {
    return new InsertionRecord(store, facility);
  }

  @Produces
  @Singleton
  PatientStory patientStory(ClinicalStore store, Facility facility) {
    return new PatientStory(store, facility);
  }

  @Produces
  @Singleton
  UnitPractice unitPractice(ClinicalStore store, Facility facility) {
    return new UnitPractice(store, facility);
  }

  /** A new key with every start: forms that were opened before are opened anew. */
  @Produces
  @Singleton
  FormSeal formSeal() {
    byte[] key = new byte[32];
    new SecureRandom().nextBytes(key);
    return new FormSeal(key, () -> UUID.randomUUID().toString());
  }

  @Produces
  @Singleton
  AccessMode accessMode(IndwellConfig config) {
    return AccessSettings.of(config);
  }

  @Produces
  @Singleton
  EdgeGuard edgeGuard(IndwellConfig config, Tracing tracing) {
    return new EdgeGuard(
        new EdgeLimits(
            config.requests().headWithin(),
            config.requests().answeredWithin(),
            config.stopWithin()),
        new SecureRandom().nextLong(),
        config.accessLog(),
        tracing);
  }

  @Produces
  @Singleton
  ListedOrigins listedOrigins(IndwellConfig config) {
    return ListedOrigins.of(config.cors().origins().orElse(List.of()));
  }

  /** Without an issuer nobody vouches for who records. */
  @Produces
  @Singleton
  Recorders recorders(AccessMode mode) {
    return mode instanceof AccessMode.Guarded ? new LoggedInRecorder() : new TypedRecorder();
  }
}
