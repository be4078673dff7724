package indwell.bench;

import ca.uhn.fhir.context.FhirContext;
import indwell.adapter.validation.StockChain;
import java.io.IOException;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * From the start of a process until it can take an event at full speed, against the library's
 * validator in a process of its own until its first verdict.
 */
final class StartBench {
  private static final Path JAR = Path.of("target/quarkus-app/quarkus-run.jar");
  private static final Path CASE = Path.of("fhir-profiles/cases/valid/catheter-insertion.json");

  private final String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();

  List<Row> rows() {
    double ours = Math.min(seconds(this::service), seconds(this::service));
    double stock = Math.min(seconds(this::verdict), seconds(this::verdict));
    return List.of(
        new Row(
            "starts to ready",
            60 / ours,
            "stock chain to its first verdict",
            60 / stock,
            "a minute",
            2.5));
  }

  private static double seconds(Stopwatch.Work work) {
    return Stopwatch.seconds(work);
  }

  /** The process of the reference. */
  public static void main(String[] none) throws IOException {
    boolean valid =
        StockChain.validator(FhirContext.forR4())
            .validateWithResult(Files.readString(CASE))
            .isSuccessful();
    System.exit(valid ? 0 : 1);
  }

  private void verdict() throws Exception {
    Process process =
        new ProcessBuilder(
                java,
                "-Xmx1g",
                "-cp",
                System.getProperty("java.class.path"),
                StartBench.class.getName())
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    if (process.waitFor() != 0) {
      throw new IllegalStateException("The reference found a valid case invalid");
    }
  }

  private void service() throws Exception {
    int port = freePort();
    Path log = Files.createTempFile("indwell-bench-", ".log");
    ProcessBuilder builder = new ProcessBuilder(java, "-Xmx1g", "-jar", JAR.toString());
    builder.environment().put("QUARKUS_HTTP_PORT", Integer.toString(port));
    builder
        .environment()
        .put("INDWELL_DATA_DIR", Files.createTempDirectory("indwell-bench-").toString());
    Process process = builder.redirectErrorStream(true).redirectOutput(log.toFile()).start();
    try {
      URI ready = URI.create("http://localhost:" + port + "/q/health/ready");
      HttpClient http = HttpClient.newHttpClient();
      while (!isReady(http, ready)) {
        if (!process.isAlive()) {
          throw new IllegalStateException(Files.readString(log));
        }
        TimeUnit.MILLISECONDS.sleep(20);
      }
    } finally {
      process.destroyForcibly();
    }
  }

  private static boolean isReady(HttpClient http, URI ready) throws InterruptedException {
    try {
      return http.send(HttpRequest.newBuilder(ready).build(), BodyHandlers.discarding())
              .statusCode()
          == 200;
    } catch (IOException notYet) {
      return false;
    }
  }

  private static int freePort() throws IOException {
    try (ServerSocket socket = new ServerSocket(0)) {
      return socket.getLocalPort();
    }
  }
}
