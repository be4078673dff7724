package indwell.web.fhir;

import indwell.access.Caller;
import indwell.adapter.store.memory.MemoryFacts;
import indwell.domain.surveillance.Statistics;
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
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/**
 * The FHIR interface alone on a free port, over a store in memory and a clock that stands still
 * until it is told to go on.
 */
final class FhirServer implements AutoCloseable {
  static final Instant NOW = FhirSetup.NOW;
  static final Facility BERLIN = FhirSetup.BERLIN;
  static final String KNOWN_PROFILE = FlawFinder.KNOWN_PROFILE;

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
    this(new FhirSetup());
  }

  /** With a validator of one's own. */
  FhirServer(ProfileValidator validator) throws Exception {
    this(new FhirSetup().validator(validator));
  }

  /** Over a store that stays open when this is closed. */
  FhirServer(ClinicalStore store, Facility facility, Instant now) throws Exception {
    this(new FhirSetup().over(store).facility(facility).at(now));
  }

  /** That asks who its callers are. */
  FhirServer(AccessMode mode) throws Exception {
    this(new FhirSetup().mode(mode));
  }

  /** That asks who its callers are, over a store that stays open, and tells a trail of them. */
  FhirServer(AccessMode mode, ClinicalStore store, AuditTrail trail) throws Exception {
    this(new FhirSetup().mode(mode).over(store).trail(trail));
  }

  /** In a house that predicts CAUTI. */
  FhirServer(Predictions predictions, Instant now) throws Exception {
    this(new FhirSetup().predictions(predictions).at(now));
  }

  /** Of a facility that says who it is. */
  FhirServer(Reporter reporter) throws Exception {
    this(new FhirSetup().reporter(reporter));
  }

  FhirServer(FhirSetup setup) throws Exception {
    clock = setup.clock;
    store = setup.store();
    closesStore = setup.closesStore();
    Facility facility = setup.facility;
    ProfileValidator validator = setup.validator;
    MappingContext context = new MappingContext(facility.calendar().zone());
    recordEvents = new RecordEvents(store, validator, context);
    PatientFlags flags = new PatientFlags(store, facility, context);
    SearchResources search = new SearchResources(store, flags);
    exports = setup.exports(store, search);
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
                new DeviceDays(store, facility),
                facts,
                Statistics.RATIOS,
                setup.predictions,
                facility),
            new DescribeWard(store, validator, facility),
            context,
            new MeasureReportMapper(setup.reporter),
            exports,
            clock.instant());
    exports.start();
    server = LocalServer.of(vertx, router(setup));
  }

  private Router router(FhirSetup setup) {
    Router router = Router.router(vertx);
    new VisitBook(vertx, setup.trail, clock, store).register(router);
    if (setup.mode instanceof AccessMode.Guarded) {
      new Gate(vertx, setup.mode, clock).register(router);
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
    FhirEndpoint endpoint = new FhirEndpoint(vertx, interactions, clock);
    router.route("/*").handler(routed -> endpoint.handle(routed.request(), Visit.of(routed)));
    return router;
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
    return ask("GET", path, "", headers);
  }

  HttpResponse<String> post(String path, String contentType, String body, String... headers)
      throws Exception {
    return ask("POST", path, body, withType(contentType, headers));
  }

  HttpResponse<String> put(String path, String body, String... headers) throws Exception {
    return ask("PUT", path, body, withType("application/fhir+json", headers));
  }

  HttpResponse<String> send(String method, String path) throws Exception {
    return ask(method, path, "");
  }

  private static String[] withType(String contentType, String... headers) {
    return Stream.concat(Stream.of("Content-Type", contentType), Stream.of(headers))
        .toArray(String[]::new);
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
