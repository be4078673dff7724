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
 * From the start of a process, with an archive of classes as docs/operations.md makes it, until it
 * can take an event at full speed, against the library's validator in a process of its own until
 * its first verdict.
 */
final class StartBench {
  private static final Path ARCHIVE = Path.of("src/main/scripts/class-archive.sh");
  private static final Path APP = Path.of("target/quarkus-app");
  private static final Path CASE = Path.of("fhir-profiles/cases/valid/catheter-insertion.json");

  /** Live objects right after the start. */
  private static final double MOST_MB = 300;

  private final String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();

  private String options = "";

  List<Row> rows() {
    options = "@" + archived().resolve("indwell.options");
    double ours = Math.min(seconds(() -> ready(any -> {})), seconds(() -> ready(any -> {})));
    double stock = Math.min(seconds(this::verdict), seconds(this::verdict));
    return List.of(
        new Row(
            "starts to ready",
            60 / ours,
            "stock chain to its first verdict",
            60 / stock,
            "a minute",
            2.5),
        Row.ofCost(
            "objects in the heap after the start", liveMegabytes(), "the most", MOST_MB, "MB", 1));
  }

  /** Where the archive lies with which docs/operations.md has the service started. */
  private static Path archived() {
    try {
      Path out = Files.createTempDirectory("indwell-bench-");
      int exit =
          new ProcessBuilder(ARCHIVE.toString(), APP.toString(), out.toString())
              .inheritIO()
              .start()
              .waitFor();
      if (exit != 0) {
        throw new IllegalStateException("There is no archive of classes");
      }
      return out;
    } catch (IOException | InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  /** What a full collection leaves right after the start. */
  private double liveMegabytes() {
    double[] megabytes = new double[1];
    try {
      ready(process -> megabytes[0] = liveBytes(process) / 1e6);
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
    return megabytes[0];
  }

  /** The sum of a histogram, before which the virtual machine collects. */
  private long liveBytes(Process process) throws IOException {
    String jcmd = Path.of(System.getProperty("java.home"), "bin", "jcmd").toString();
    Process histogram =
        new ProcessBuilder(jcmd, Long.toString(process.pid()), "GC.class_histogram").start();
    String total =
        histogram
            .inputReader()
            .lines()
            .filter(line -> line.startsWith("Total"))
            .findFirst()
            .orElseThrow();
    return Long.parseLong(total.trim().split("\\s+")[2]);
  }

  private interface Look {
    void at(Process process) throws IOException;
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

  private void ready(Look look) throws Exception {
    int port = freePort();
    Path log = Files.createTempFile("indwell-bench-", ".log");
    ProcessBuilder builder = new ProcessBuilder(java, "-Xmx1g", options);
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
      look.at(process);
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
