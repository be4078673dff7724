package indwell.web.fhir;

import indwell.access.Caller;
import indwell.adapter.store.memory.MemoryExportJobs;
import indwell.adapter.store.memory.MemoryFacts;
import indwell.adapter.store.memory.MemoryStore;
import indwell.domain.rule.RuleSettings;
import indwell.domain.surveillance.Statistics;
import indwell.domain.time.FacilityCalendar;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.MeasureReportMapper;
import indwell.fhir.map.Reporter;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.usecase.CatheterDays;
import indwell.usecase.DescribeWard;
import indwell.usecase.DeviceDays;
import indwell.usecase.Facility;
import indwell.usecase.Overdue;
import indwell.usecase.PatientFlags;
import indwell.usecase.Predictions;
import indwell.usecase.ReadResources;
import indwell.usecase.RecordEvents;
import indwell.usecase.SearchResources;
import indwell.usecase.UnitReport;
import indwell.usecase.audit.AuditTrail;
import indwell.usecase.export.ExportFolder;
import indwell.usecase.export.ExportLimits;
import indwell.usecase.export.Exports;
import indwell.usecase.transaction.RecordBundle;
import indwell.web.LocalServer;
import indwell.web.access.AccessMode;
import indwell.web.access.Callers;
import indwell.web.access.Gate;
import indwell.web.access.Visit;
import indwell.web.access.VisitBook;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServer;
import io.vertx.ext.web.Router;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import java.util.function.BiFunction;

/**
 * The FHIR interface alone on a free port, over a store in memory and a clock that stands still
 * until it is told to go on.
 */
final class FhirServer implements AutoCloseable {
  static final Instant NOW = Instant.parse("2026-03-10T12:00:00Z");
  static final Facility BERLIN =
      new Facility(
          new FacilityCalendar(ZoneId.of("Europe/Berlin")),
          LocalTime.MIDNIGHT,
          RuleSettings.DEFAULTS,
          Map.of());

  static final String KNOWN_PROFILE = "https://indwell.example/fhir/StructureDefinition/known";

  private static final AccessMode DEVELOPMENT = new AccessMode.Development();

  private final Vertx vertx = Vertx.vertx();
  final List<Interaction> interactions;
  final MemoryFacts facts = new MemoryFacts();
  private final ClinicalStore store;
  private final boolean closesStore;
  private final Exports exports;
  private final Clock clock;
  private final RecordEvents recordEvents;
  private final HttpServer server;
  private final HttpClient client = HttpClient.newHttpClient();

  FhirServer() throws Exception {
    this(new Findings());
  }

  /** With a validator of one's own. */
  FhirServer(ProfileValidator validator) throws Exception {
    this(
        new MemoryStore(),
        true,
        validator,
        BERLIN,
        new MovableClock(NOW),
        (store, search) -> exports(store, search, NOW),
        Predictions.OFF,
        Optional.empty(),
        DEVELOPMENT,
        AuditTrail.NONE);
  }

  /**
   * @param exporting makes the exports over the store, which are started here
   */
  FhirServer(
      ClinicalStore store,
      Clock clock,
      BiFunction<ClinicalStore, SearchResources, Exports> exporting)
      throws Exception {
    this(
        store,
        false,
        new Findings(),
        BERLIN,
        clock,
        exporting,
        Predictions.OFF,
        Optional.empty(),
        DEVELOPMENT,
        AuditTrail.NONE);
  }

  /** Over a store that stays open when this is closed. */
  FhirServer(ClinicalStore store, Facility facility, Instant now) throws Exception {
    this(
        store,
        false,
        new Findings(),
        facility,
        Clock.fixed(now, ZoneOffset.UTC),
        (all, search) -> exports(all, search, now),
        Predictions.OFF,
        Optional.empty(),
        DEVELOPMENT,
        AuditTrail.NONE);
  }

  /** That asks who its callers are. */
  FhirServer(AccessMode mode) throws Exception {
    this(
        new MemoryStore(),
        true,
        new Findings(),
        BERLIN,
        new MovableClock(NOW),
        (store, search) -> exports(store, search, NOW),
        Predictions.OFF,
        Optional.empty(),
        mode,
        AuditTrail.NONE);
  }

  /** That asks who its callers are, over a store that stays open, and tells a trail of them. */
  FhirServer(AccessMode mode, ClinicalStore store, AuditTrail trail) throws Exception {
    this(
        store,
        false,
        new Findings(),
        BERLIN,
        new MovableClock(NOW),
        (all, search) -> exports(all, search, NOW),
        Predictions.OFF,
        Optional.empty(),
        mode,
        trail);
  }

  /** In a house that predicts CAUTI. */
  FhirServer(Predictions predictions, Instant now) throws Exception {
    this(
        new MemoryStore(),
        true,
        new Findings(),
        BERLIN,
        Clock.fixed(now, ZoneOffset.UTC),
        (all, search) -> exports(all, search, now),
        predictions,
        Optional.empty(),
        DEVELOPMENT,
        AuditTrail.NONE);
  }

  /** Of a facility that says who it is. */
  FhirServer(Reporter reporter) throws Exception {
    this(
        new MemoryStore(),
        true,
        new Findings(),
        BERLIN,
        new MovableClock(NOW),
        (store, search) -> exports(store, search, NOW),
        Predictions.OFF,
        Optional.of(reporter),
        DEVELOPMENT,
        AuditTrail.NONE);
  }

  private FhirServer(
      ClinicalStore store,
      boolean closesStore,
      ProfileValidator validator,
      Facility facility,
      Clock clock,
      BiFunction<ClinicalStore, SearchResources, Exports> exporting,
      Predictions predictions,
      Optional<Reporter> reporter,
      AccessMode mode,
      AuditTrail trail)
      throws Exception {
    this.clock = clock;
    this.store = store;
    this.closesStore = closesStore;
    MappingContext context = new MappingContext(facility.calendar().zone());
    recordEvents = new RecordEvents(store, validator, context);
    PatientFlags flags = new PatientFlags(store, facility, context);
    SearchResources search = new SearchResources(store, flags);
    exports = exporting.apply(store, search);
    interactions =
        AllInteractions.of(
            new ReadResources(store),
            search,
            flags,
            new RecordBundle(store, validator, validator, context),
            validator,
            new DeviceDays(store, facility),
            new CatheterDays(store, facility),
            new Overdue(store, facility),
            new UnitReport(
                new DeviceDays(store, facility), facts, Statistics.RATIOS, predictions, facility),
            new DescribeWard(store, validator, facility),
            context,
            new MeasureReportMapper(reporter),
            exports,
            clock.instant());
    FhirEndpoint endpoint = new FhirEndpoint(vertx, interactions, clock);
    Router router = Router.router(vertx);
    new VisitBook(vertx, trail, clock, store).register(router);
    if (mode instanceof AccessMode.Guarded) {
      new Gate(vertx, mode, clock).register(router);
    } else {
      // What is sent here may name any host.
      router
          .route()
          .handler(
              asked -> {
                Callers.put(asked, Caller.DEVELOPMENT);
                asked.next();
              });
    }
    router.route("/*").handler(routed -> endpoint.handle(routed.request(), Visit.of(routed)));
    exports.start();
    server = LocalServer.of(vertx, router);
  }

  /** The answer to anything at all; a body is sent where there is one. */
  HttpResponse<String> ask(String method, String path, String body, String... headers)
      throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(base() + path))
            .method(
                method, body.isEmpty() ? BodyPublishers.noBody() : BodyPublishers.ofString(body));
    if (headers.length > 0) {
      request.headers(headers);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  private static Exports exports(ClinicalStore store, SearchResources search, Instant now) {
    try {
      return new Exports(
          store,
          new MemoryExportJobs(),
          ExportFolder.open(Files.createTempDirectory("indwell-exports-")),
          search,
          new ExportFilters(search, ZoneOffset.UTC),
          ExportLimits.of(4, Duration.ofHours(1)),
          Clock.fixed(now, ZoneOffset.UTC),
          () -> UUID.randomUUID().toString());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Finds one thing in what holds the word "flawed", nothing in the rest. */
  private static final class Findings implements ProfileValidator {
    @Override
    public List<Finding> validate(byte[] json, List<String> profiles) {
      return new String(json, StandardCharsets.UTF_8).contains("flawed")
          ? List.of(new Finding(Severity.ERROR, "value", "Patient.name", "It is flawed."))
          : List.of();
    }

    @Override
    public boolean knows(String profile) {
      return profile.equals(KNOWN_PROFILE);
    }

    @Override
    public boolean ready() {
      return true;
    }
  }

  /** Lets time pass; it stands still otherwise. */
  void advance(Duration by) {
    ((MovableClock) clock).advance(by);
  }

  Instant now() {
    return clock.instant();
  }

  int port() {
    return server.actualPort();
  }

  String base() {
    return "http://127.0.0.1:" + port() + "/fhir";
  }

  void record(String... events) {
    for (String event : events) {
      EventResult result =
          recordEvents.record(
              EventBodies.line(event.getBytes(StandardCharsets.UTF_8), clock.instant()),
              clock.instant());
      if (result.status() != 201) {
        throw new AssertionError("Not recorded: " + result);
      }
    }
  }

  /** An event of patient p1 at ward A-1 as JSON; details without their braces. */
  static String event(String id, String type, String at, String details) {
    return ("{\"source\":\"ward\",\"eventId\":\"%s\",\"type\":\"%s\",\"occurredAt\":\"%s\","
            + "\"patient\":{\"system\":\"urn:test:mrn\",\"value\":\"p1\"},"
            + "\"encounter\":{\"system\":\"urn:test:stay\",\"value\":\"s1\"},\"details\":{%s}}")
        .formatted(id, type, at, details);
  }

  /** Admitted on 1 March at 08:00 local, catheter inserted at 09:00, nothing after that. */
  void recordStay() {
    record(
        event("e1", "patient-admitted", "2026-03-01T08:00:00+01:00", "\"ward\":\"A-1\""),
        event(
            "e2",
            "catheter-inserted",
            "2026-03-01T09:00:00+01:00",
            "\"catheterId\":\"c1\",\"route\":\"urethral\",\"sizeCh\":14,"
                + "\"indication\":\"acute-retention\""),
        event("e3", "weight-measured", "2026-03-01T10:00:00+01:00", "\"kg\":70"),
        event("e4", "specimen-collected", "2026-03-01T11:00:00+01:00", "\"catheterId\":\"c1\""));
  }

  HttpResponse<String> get(String path, String... headers) throws Exception {
    HttpRequest.Builder request = HttpRequest.newBuilder(URI.create(base() + path));
    if (headers.length > 0) {
      request.headers(headers);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  HttpResponse<String> post(String path, String contentType, String body, String... headers)
      throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(base() + path))
            .header("Content-Type", contentType)
            .POST(BodyPublishers.ofString(body));
    if (headers.length > 0) {
      request.headers(headers);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  HttpResponse<String> put(String path, String body, String... headers) throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(base() + path))
            .header("Content-Type", "application/fhir+json")
            .PUT(BodyPublishers.ofString(body));
    if (headers.length > 0) {
      request.headers(headers);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  HttpResponse<String> send(String method, String path) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(base() + path))
            .method(method, BodyPublishers.noBody())
            .build(),
        BodyHandlers.ofString());
  }

  @Override
  public void close() throws Exception {
    exports.close();
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
    if (closesStore) {
      store.close();
    }
  }
}
