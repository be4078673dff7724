package indwell.bench;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.usecase.audit.AuditTrail;
import indwell.usecase.audit.KeepAudit;
import indwell.web.fhir.ReadServer;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

/**
 * What it costs a search over HTTP that its row is on the disk before it is answered: the same
 * server with a trail and without one, turn by turn, on the embedded database.
 */
final class AuditedReadBench {
  private static final int REQUESTS = 2_000;
  private static final int TURNS = 3;

  /** A line for each number of callers. */
  List<Row> rows() throws Exception {
    try (JdbcStore store = SqliteStore.open(Files.createTempDirectory("indwell-bench-"));
        KeepAudit trail = new KeepAudit(store);
        ReadServer audited = new ReadServer(store, trail);
        ReadServer plain = new ReadServer(store, AuditTrail.NONE)) {
      ask(audited, 8);
      ask(plain, 8);
      List<Row> rows = new ArrayList<>();
      for (int callers : new int[] {1, 8, 32}) {
        rows.add(compare(audited, plain, callers));
      }
      return rows;
    }
  }

  private static Row compare(ReadServer audited, ReadServer plain, int callers) throws Exception {
    List<Double> with = new ArrayList<>();
    List<Double> without = new ArrayList<>();
    for (int turn = 0; turn < TURNS; turn++) {
      without.addAll(ask(plain, callers));
      with.addAll(ask(audited, callers));
    }
    return new Row(
        "a search over HTTP with its row of the audit trail, %d callers, median".formatted(callers),
        1000 / median(with),
        "the same without rows",
        1000 / median(without),
        "answers/s of a caller",
        0);
  }

  private static double median(List<Double> millis) {
    return millis.stream().sorted().skip(millis.size() / 2).findFirst().orElseThrow();
  }

  private static List<Double> ask(ReadServer server, int callers) throws Exception {
    HttpClient client = HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
    HttpRequest request =
        HttpRequest.newBuilder(URI.create(server.base() + "/Procedure?_count=1")).build();
    ExecutorService threads = Executors.newFixedThreadPool(callers);
    try {
      Callable<List<Double>> one = () -> ask(client, request, REQUESTS / callers);
      List<Callable<List<Double>>> all = new ArrayList<>();
      for (int i = 0; i < callers; i++) {
        all.add(one);
      }
      List<Double> millis = new ArrayList<>();
      for (Future<List<Double>> answered : threads.invokeAll(all)) {
        millis.addAll(answered.get());
      }
      return millis;
    } finally {
      threads.shutdown();
    }
  }

  private static List<Double> ask(HttpClient client, HttpRequest request, int times)
      throws Exception {
    List<Double> millis = new ArrayList<>();
    for (int i = 0; i < times; i++) {
      long begun = System.nanoTime();
      if (client.send(request, BodyHandlers.ofByteArray()).statusCode() != 200) {
        throw new IllegalStateException("It was not answered.");
      }
      millis.add((System.nanoTime() - begun) / 1e6);
    }
    return millis;
  }
}
