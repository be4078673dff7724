package indwell.blackbox;

import com.sun.net.httpserver.HttpHandler;
import com.sun.net.httpserver.HttpServer;
import io.opentelemetry.proto.trace.v1.Span;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.awaitility.Awaitility;

/**
 * The packaged service, the collector of its spans and a hospital's server that it publishes to.
 */
record TracedService(RunningService service, Collector collector, HttpServer hospital)
    implements AutoCloseable {
  private static final Duration COMES_WITHIN = Duration.ofSeconds(30);

  /**
   * Starts all three.
   *
   * @param data where the service keeps what it is told
   * @param hospital answers what the hospital's server is asked, whose body has been read
   * @param more environment of the service
   */
  static TracedService start(Path data, HttpHandler hospital, Map<String, String> more)
      throws Exception {
    Collector collector = new Collector();
    HttpServer server =
        HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    server.createContext(
        "/",
        exchange -> {
          try (exchange) {
            exchange.getRequestBody().readAllBytes();
            hospital.handle(exchange);
          }
        });
    server.start();
    Map<String, String> environment = new HashMap<>(more);
    environment.put("INDWELL_DATA_DIR", data.toString());
    environment.put("INDWELL_TRACES_ENDPOINT", collector.endpoint());
    environment.put(
        "INDWELL_PUBLISH_URL", "http://127.0.0.1:" + server.getAddress().getPort() + "/fhir");
    try {
      return new TracedService(RunningService.start(environment), collector, server);
    } catch (Exception e) {
      server.stop(0);
      collector.close();
      throw e;
    }
  }

  /** What came so far. */
  List<Span> spans() {
    return collector.spans();
  }

  /** The span of a request, once it has come. */
  Span spanOf(HttpResponse<?> answer) {
    String id = idOf(answer);
    return Awaitility.await()
        .atMost(COMES_WITHIN)
        .until(
            () ->
                spans().stream()
                    .filter(span -> Collector.attributes(span).containsValue(id))
                    .findFirst(),
            Optional::isPresent)
        .orElseThrow();
  }

  /** The id that a request was given. */
  static String idOf(HttpResponse<?> answer) {
    return answer.headers().firstValue("X-Request-Id").orElseThrow();
  }

  @Override
  public void close() throws InterruptedException {
    service.close();
    hospital.stop(0);
    collector.close();
  }
}
