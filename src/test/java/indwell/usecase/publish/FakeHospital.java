package indwell.usecase.publish;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import indwell.fhir.map.FhirJson;
import indwell.fhir.publish.Outgoing;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.function.Function;
import org.hl7.fhir.r4.model.Bundle;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Property;
import org.hl7.fhir.r4.model.Resource;

/**
 * A FHIR server of a hospital, small and strict: versions and If-Match, references have to lead
 * somewhere, ids of its own if asked to. A script says what goes wrong with which request.
 */
public final class FakeHospital implements AutoCloseable {

  /** A request as it came. */
  public record Asked(String method, String path, Map<String, String> headers, String body) {
    String header(String name) {
      return headers.getOrDefault(name.toLowerCase(java.util.Locale.ROOT), "");
    }
  }

  private final HttpServer server;
  private final ExecutorService threads = Executors.newCachedThreadPool();
  private final CountDownLatch closing = new CountDownLatch(1);
  private final boolean ownIds;

  /** Versions of each resource, oldest first; the number of a version is its place from 1. */
  private final Map<String, List<Resource>> resources = new TreeMap<>();

  final List<Asked> asked = new CopyOnWriteArrayList<>();
  public volatile Function<Asked, Optional<Fault>> script = request -> Optional.empty();
  private int created;

  /**
   * Listens at once.
   *
   * @param ownIds whether it gives ids of its own and refuses ours
   */
  public FakeHospital(boolean ownIds) {
    this.ownIds = ownIds;
    try {
      server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    server.setExecutor(threads);
    server.createContext("/", this::handle);
    server.start();
  }

  /** The address of its FHIR interface. */
  public String base() {
    return origin() + "/fhir";
  }

  String origin() {
    return "http://127.0.0.1:" + server.getAddress().getPort();
  }

  /** All versions, by the reference that the resource has here. */
  public synchronized Map<String, List<Resource>> versions() {
    Map<String, List<Resource>> copy = new TreeMap<>();
    resources.forEach((reference, versions) -> copy.put(reference, List.copyOf(versions)));
    return copy;
  }

  /** Somebody else writes, or deletes when nothing is given. */
  public synchronized void change(String reference, Optional<Resource> resource) {
    List<Resource> versions = resources.computeIfAbsent(reference, key -> new ArrayList<>());
    if (resource.isPresent()) {
      versions.add(resource.get().copy());
    } else {
      resources.remove(reference);
    }
  }

  private void handle(HttpExchange exchange) throws IOException {
    try (exchange) {
      Map<String, String> headers = new TreeMap<>();
      exchange
          .getRequestHeaders()
          .forEach(
              (name, values) ->
                  headers.put(name.toLowerCase(java.util.Locale.ROOT), values.get(0)));
      Asked request =
          new Asked(
              exchange.getRequestMethod(),
              exchange.getRequestURI().toString(),
              headers,
              new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8));
      asked.add(request);
      Optional<Fault> fault = script.apply(request);
      if (fault.isPresent()) {
        fail(exchange, request, fault.get());
      } else {
        answer(exchange, perform(request));
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private record Answer(int status, Map<String, String> headers, String body) {}

  private void fail(HttpExchange exchange, Asked request, Fault fault)
      throws IOException, InterruptedException {
    switch (fault.how()) {
      case ANSWER -> answer(exchange, new Answer(fault.status(), fault.headers(), fault.body()));
      case SILENCE -> closing.await();
      case DONE_AND_SILENCE -> {
        perform(request);
        closing.await();
      }
      case DONE_AND_CLOSED -> perform(request);
      case DONE_AND_CUT -> {
        perform(request);
        exchange.getResponseHeaders().add("Content-Type", "application/fhir+json");
        exchange.sendResponseHeaders(200, 4_000);
        exchange
            .getResponseBody()
            .write("{\"resourceType\":\"Oper".getBytes(StandardCharsets.UTF_8));
        exchange.getResponseBody().flush();
      }
      case DONE_AND_DRIPPING -> {
        perform(request);
        exchange.getResponseHeaders().add("Content-Type", "application/fhir+json");
        exchange.sendResponseHeaders(200, 0);
        OutputStream body = exchange.getResponseBody();
        while (!closing.await(20, java.util.concurrent.TimeUnit.MILLISECONDS)) {
          body.write(' ');
          body.flush();
        }
      }
    }
  }

  private static void answer(HttpExchange exchange, Answer answer) throws IOException {
    answer.headers().forEach(exchange.getResponseHeaders()::add);
    byte[] body = answer.body().getBytes(StandardCharsets.UTF_8);
    exchange.sendResponseHeaders(answer.status(), body.length == 0 ? -1 : body.length);
    exchange.getResponseBody().write(body);
  }

  private synchronized Answer perform(Asked request) {
    String[] parts = request.path().substring("/fhir/".length()).split("\\?", 2);
    boolean query = parts.length == 2;
    return switch (request.method()) {
      case "PUT" -> query ? conditional(request, parts) : put(request, parts[0]);
      case "GET" -> query ? search(parts) : read(parts[0]);
      default -> outcome(405, "not-supported", "No.");
    };
  }

  private Answer put(Asked request, String reference) {
    List<Resource> versions = resources.getOrDefault(reference, List.of());
    Resource resource = FhirJson.parse(request.body());
    if (versions.isEmpty() && ownIds) {
      return outcome(405, "not-supported", "Ids are given here.");
    }
    if (!reference.equals(resource.fhirType() + "/" + resource.getIdElement().getIdPart())) {
      return outcome(400, "invalid", "The id is another.");
    }
    String expected = request.header("If-Match");
    if (!expected.isEmpty() && !expected.equals(tag(versions.size()))) {
      return outcome(412, "conflict", "Another version is here.");
    }
    return store(reference, resource);
  }

  private Answer conditional(Asked request, String[] parts) {
    List<String> found = matches(parts);
    if (found.size() > 1) {
      return outcome(412, "multiple-matches", "More than one.");
    }
    Resource resource = FhirJson.parse(request.body());
    String reference = found.isEmpty() ? parts[0] + "/own-" + ++created : found.get(0);
    resource.setId(reference.substring(reference.indexOf('/') + 1));
    return store(reference, resource);
  }

  private Answer store(String reference, Resource resource) {
    for (String other : Outgoing.references(resource)) {
      if (!resources.containsKey(other)) {
        return outcome(400, "processing", "Resource " + other + " is not known here.");
      }
    }
    List<Resource> versions = resources.computeIfAbsent(reference, key -> new ArrayList<>());
    versions.add(resource);
    return new Answer(
        versions.size() == 1 ? 201 : 200,
        Map.of(
            "ETag",
            tag(versions.size()),
            "Location",
            base() + "/" + reference + "/_history/" + versions.size()),
        "");
  }

  private Answer read(String reference) {
    List<Resource> versions = resources.getOrDefault(reference, List.of());
    if (versions.isEmpty()) {
      return outcome(404, "not-found", "Not here.");
    }
    Resource newest = versions.get(versions.size() - 1).copy();
    newest.getMeta().setVersionId(Integer.toString(versions.size()));
    return new Answer(
        200,
        Map.of("ETag", tag(versions.size()), "Content-Type", "application/fhir+json"),
        FhirJson.encode(newest));
  }

  private Answer search(String[] parts) {
    Bundle bundle = new Bundle().setType(Bundle.BundleType.SEARCHSET);
    for (String reference : matches(parts)) {
      List<Resource> versions = resources.getOrDefault(reference, List.of());
      bundle.addEntry().setResource(versions.get(versions.size() - 1));
    }
    return new Answer(
        200, Map.of("Content-Type", "application/fhir+json"), FhirJson.encode(bundle));
  }

  private List<String> matches(String[] parts) {
    List<String> found = new ArrayList<>();
    resources.forEach(
        (reference, versions) -> {
          Resource newest = versions.get(versions.size() - 1);
          if (reference.startsWith(parts[0] + "/") && meets(newest, parts[1])) {
            found.add(reference);
          }
        });
    return found;
  }

  private static boolean meets(Resource resource, String query) {
    for (String term : query.split("&")) {
      String[] pair = URLDecoder.decode(term, StandardCharsets.UTF_8).split("=", 2);
      boolean met =
          switch (pair[0]) {
            case "identifier" ->
                values(resource, "identifier").stream()
                    .map(one -> (Identifier) one)
                    .map(one -> one.getSystem() + "|" + one.getValue())
                    .anyMatch(
                        token ->
                            pair[1].endsWith("|")
                                ? token.startsWith(pair[1])
                                : token.equals(pair[1]));
            case "_tag" ->
                resource.getMeta().getTag().stream()
                    .anyMatch(tag -> (tag.getSystem() + "|" + tag.getCode()).equals(pair[1]));
            case "patient" -> Outgoing.references(resource).contains(pair[1]);
            case "_count" -> true;
            default -> throw new IllegalArgumentException(pair[0]);
          };
      if (!met) {
        return false;
      }
    }
    return true;
  }

  private static List<? extends org.hl7.fhir.r4.model.Base> values(Resource resource, String name) {
    return resource.children().stream()
        .filter(property -> property.getName().equals(name))
        .map(Property::getValues)
        .findFirst()
        .orElse(List.of());
  }

  private static String tag(int version) {
    return "W/\"" + version + "\"";
  }

  private static Answer outcome(int status, String code, String diagnostics) {
    Fault fault = Fault.outcome(status, code, diagnostics);
    return new Answer(status, fault.headers(), fault.body());
  }

  @Override
  public void close() {
    closing.countDown();
    server.stop(0);
    threads.shutdownNow();
  }
}
