package indwell.web.page;

import indwell.access.Caller;
import indwell.adapter.store.memory.MemoryFacts;
import indwell.adapter.store.memory.MemoryStore;
import indwell.boot.demo.DemoWard;
import indwell.contract.Audits;
import indwell.contract.PlainFacility;
import indwell.domain.surveillance.Statistics;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.usecase.DeviceDays;
import indwell.usecase.EnterAtBedside;
import indwell.usecase.Facility;
import indwell.usecase.InsertionRecord;
import indwell.usecase.PatientStory;
import indwell.usecase.Predictions;
import indwell.usecase.RecordEvents;
import indwell.usecase.UnitPractice;
import indwell.usecase.UnitReport;
import indwell.usecase.WardBoard;
import indwell.web.LocalServer;
import indwell.web.access.Callers;
import indwell.web.access.VisitBook;
import indwell.web.page.insertion.InsertionPage;
import indwell.web.page.patient.PatientPage;
import indwell.web.page.report.ReportPage;
import indwell.web.ward.WardPage;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServer;
import io.vertx.ext.web.Route;
import io.vertx.ext.web.Router;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;

/** The pages alone on a free port, over a store in memory and a clock that a test moves. */
public final class PagesServer implements AutoCloseable {
  /** A Tuesday noon in winter. */
  public static final Instant NOW = Instant.parse("2026-03-10T12:00:00Z");

  public static final Facility BERLIN = PlainFacility.in(ZoneId.of("Europe/Berlin"));

  private final Vertx vertx = Vertx.vertx();
  private final ClinicalStore store = new MemoryStore();
  private final MemoryFacts facts = new MemoryFacts();
  private final RecordEvents recordEvents;
  private final HttpServer server;
  private final Router router;
  private final HttpClient client =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
  private volatile Instant now = NOW;

  public PagesServer() throws Exception {
    this(0);
  }

  public PagesServer(int port) throws Exception {
    this(port, new TypedRecorder());
  }

  /** With another way to know who records, as a login would be. */
  public PagesServer(int port, Recorders recorders) throws Exception {
    this(port, recorders, Caller.DEVELOPMENT);
  }

  /** Asked by somebody. */
  public PagesServer(int port, Recorders recorders, Caller caller) throws Exception {
    this(port, recorders, caller, BERLIN);
  }

  /** In a facility with settings of its own. */
  public PagesServer(Facility facility) throws Exception {
    this(0, new TypedRecorder(), Caller.DEVELOPMENT, facility);
  }

  private PagesServer(int port, Recorders recorders, Caller caller, Facility facility)
      throws Exception {
    recordEvents =
        new RecordEvents(store, new NothingFound(), new MappingContext(facility.calendar().zone()));
    PageServer pages = new PageServer(vertx, new TestClock(), facility);
    FormSeal seal =
        new FormSeal(
            "a key of thirty-two bytes for tests".getBytes(StandardCharsets.UTF_8),
            () -> UUID.randomUUID().toString());
    router = Router.router(vertx);
    new VisitBook(vertx, Audits.into(store), new TestClock()).register(router);
    router
        .route()
        .handler(
            asked -> {
              Callers.put(asked, caller);
              asked.next();
            });
    new PageStyle(pages).register(router);
    new WardPage(
            pages,
            new WardBoard(store, facility),
            new EnterAtBedside(store, recordEvents),
            seal,
            recorders,
            facility)
        .register(router);
    new InsertionPage(pages, new InsertionRecord(store, facility), facility).register(router);
    new PatientPage(pages, new PatientStory(store, facility), facility).register(router);
    new ReportPage(
            pages,
            new UnitReport(
                new DeviceDays(store, facility),
                facts,
                Statistics.RATIOS,
                Predictions.OFF,
                facility),
            new UnitPractice(store, facility),
            facility)
        .register(router);
    server = LocalServer.of(vertx, port, router);
  }

  private final class TestClock extends Clock {
    @Override
    public ZoneId getZone() {
      return ZoneOffset.UTC;
    }

    @Override
    public Clock withZone(ZoneId zone) {
      throw new UnsupportedOperationException();
    }

    @Override
    public Instant instant() {
      return now;
    }
  }

  private static final class NothingFound implements ProfileValidator {
    @Override
    public List<Finding> validate(byte[] json, List<String> profiles) {
      return List.of();
    }

    @Override
    public boolean knows(String profile) {
      return true;
    }

    @Override
    public boolean ready() {
      return true;
    }
  }

  /** The addresses that it has, as they were put there. */
  public List<String> routes() {
    return router.getRoutes().stream().map(Route::getName).filter(Objects::nonNull).toList();
  }

  public ClinicalStore store() {
    return store;
  }

  public MemoryFacts facts() {
    return facts;
  }

  public Instant now() {
    return now;
  }

  /** Lets time pass. */
  public void advance(Duration by) {
    now = now.plus(by);
  }

  /** Puts the clock somewhere. */
  public void at(Instant instant) {
    now = instant;
  }

  public String base() {
    return "http://127.0.0.1:" + server.actualPort();
  }

  /** Fills in the demo ward, as it stands now. */
  public void loadDemo() {
    DemoWard.events(now, BERLIN.calendar().zone()).forEach(this::record);
  }

  /** Records events as JSON. */
  public void record(String... events) {
    for (String event : events) {
      EventResult result =
          recordEvents.record(EventBodies.line(event.getBytes(StandardCharsets.UTF_8), now), now);
      if (result.outcome() != Outcome.RECORDED && result.outcome() != Outcome.SUPERSEDED) {
        throw new AssertionError("Not recorded: " + result);
      }
    }
  }

  /** The page at that path, whatever its status. */
  public HttpResponse<String> get(String path, String... headers) throws Exception {
    HttpRequest.Builder request = HttpRequest.newBuilder(URI.create(base() + path));
    if (headers.length > 0) {
      request.headers(headers);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  /** The page at that path, which is there. */
  public Document page(String path, String... headers) throws Exception {
    HttpResponse<String> answer = get(path, headers);
    if (answer.statusCode() != 200) {
      throw new AssertionError(path + ": " + answer.statusCode() + "\n" + answer.body());
    }
    return Jsoup.parse(answer.body(), base() + path);
  }

  /** Sends something else than a form or a GET. */
  public HttpResponse<String> send(String method, String path) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(base() + path))
            .method(method, BodyPublishers.noBody())
            .build(),
        BodyHandlers.ofString());
  }

  /** Sends a form with exactly those headers beside its content type. */
  public HttpResponse<String> form(String path, List<String[]> fields, String... headers)
      throws Exception {
    List<String> pairs = new ArrayList<>();
    for (String[] field : fields) {
      pairs.add(encoded(field[0]) + "=" + encoded(field[1]));
    }
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(base() + path))
            .header("Content-Type", "application/x-www-form-urlencoded")
            .POST(BodyPublishers.ofString(String.join("&", pairs)));
    if (headers.length > 0) {
      request.headers(headers);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }

  @Override
  public void close() throws Exception {
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
    store.close();
  }
}
