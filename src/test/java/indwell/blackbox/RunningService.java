package indwell.blackbox;

import java.io.IOException;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;

/** The packaged service in a process of its own, as an operator starts it. */
final class RunningService implements AutoCloseable {
  static final Path JAR = Path.of("target/quarkus-app/quarkus-run.jar");
  private static final Duration READY_WITHIN = Duration.ofSeconds(120);

  private final HttpClient http =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
  private final Process process;
  private final Path log;
  private final int port;

  private RunningService(Process process, Path log, int port) {
    this.process = process;
    this.log = log;
    this.port = port;
  }

  /** Starts it and waits until it is ready. */
  static RunningService start(Map<String, String> environment, String... jvmOptions)
      throws Exception {
    return start(List.of("-jar", JAR.toString()), environment, jvmOptions);
  }

  /** Starts it by what stands after {@code java} and its options, and waits until it is ready. */
  static RunningService start(
      List<String> what, Map<String, String> environment, String... jvmOptions) throws Exception {
    int port = freePort();
    Path log = Files.createTempFile("indwell-service-", ".log");
    Process process = launch(what, environment, port, log, jvmOptions);
    RunningService service = new RunningService(process, log, port);
    service.awaitReady();
    return service;
  }

  private static Process launch(
      List<String> what, Map<String, String> environment, int port, Path log, String... jvmOptions)
      throws IOException {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(List.of(jvmOptions));
    command.addAll(what);
    ProcessBuilder builder = new ProcessBuilder(command).redirectErrorStream(true);
    builder.redirectOutput(log.toFile());
    builder.environment().put("QUARKUS_HTTP_PORT", Integer.toString(port));
    builder.environment().putAll(environment);
    return builder.start();
  }

  /** Runs it until it exits by itself and gives its exit code and what it wrote. */
  static Map.Entry<Integer, String> runToItsEnd(Map<String, String> environment) throws Exception {
    Path log = Files.createTempFile("indwell-service-", ".log");
    Process process = launch(List.of("-jar", JAR.toString()), environment, freePort(), log);
    if (!process.waitFor(60, TimeUnit.SECONDS)) {
      process.destroyForcibly().waitFor();
      return Map.entry(-1, Files.readString(log));
    }
    return Map.entry(process.exitValue(), Files.readString(log));
  }

  private void awaitReady() throws Exception {
    long deadline = System.nanoTime() + READY_WITHIN.toNanos();
    while (System.nanoTime() < deadline && process.isAlive()) {
      try {
        if (get("/q/health/ready").statusCode() == 200) {
          return;
        }
      } catch (IOException notYet) {
        // It does not listen yet.
      }
      TimeUnit.MILLISECONDS.sleep(100);
    }
    throw new IllegalStateException("The service did not become ready:\n" + log());
  }

  private static int freePort() throws IOException {
    try (ServerSocket socket = new ServerSocket(0)) {
      return socket.getLocalPort();
    }
  }

  URI uri(String path) {
    return URI.create("http://localhost:" + port + path);
  }

  int port() {
    return port;
  }

  long pid() {
    return process.pid();
  }

  String log() throws IOException {
    return Files.readString(log);
  }

  HttpResponse<String> get(String path, String... headers) throws IOException {
    HttpRequest.Builder request = HttpRequest.newBuilder(uri(path));
    return send(headers.length == 0 ? request : request.headers(headers));
  }

  HttpResponse<String> postEvent(String body) throws IOException {
    return post("/events", "application/json", body);
  }

  HttpResponse<String> post(String path, String mediaType, String body) throws IOException {
    return send(
        HttpRequest.newBuilder(uri(path))
            .header("Content-Type", mediaType)
            .POST(BodyPublishers.ofString(body)));
  }

  HttpResponse<String> post(String path, String mediaType, byte[] body) throws IOException {
    return send(
        HttpRequest.newBuilder(uri(path))
            .header("Content-Type", mediaType)
            .POST(BodyPublishers.ofByteArray(body)));
  }

  private HttpResponse<String> send(HttpRequest.Builder request) throws IOException {
    try {
      return http.send(request.timeout(Duration.ofSeconds(120)).build(), BodyHandlers.ofString());
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Ends it as a power cut would, without a word to anybody. */
  void kill() throws InterruptedException {
    process.destroyForcibly().waitFor();
  }

  /** Tells it to stop (SIGTERM), without waiting. */
  void signalTerm() {
    process.destroy();
  }

  /** Waits for its end and gives its exit code. */
  int awaitEnd() throws InterruptedException {
    if (!process.waitFor(60, TimeUnit.SECONDS)) {
      throw new IllegalStateException("The service has not ended");
    }
    return process.exitValue();
  }

  /** Tells it to stop, waits for its end and gives its exit code. */
  int terminate() throws InterruptedException {
    signalTerm();
    return awaitEnd();
  }

  @Override
  public void close() throws InterruptedException {
    process.destroy();
    if (!process.waitFor(20, TimeUnit.SECONDS)) {
      process.destroyForcibly().waitFor();
    }
  }
}
