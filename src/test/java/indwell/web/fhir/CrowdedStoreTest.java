package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.jdbc.PoolLimits;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.contract.HeldTrail;
import indwell.port.AuditEntry;
import indwell.web.access.AccessMode;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The only connection that reads is held by somebody, and callers come. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CrowdedStoreTest {
  private final HttpClient client = HttpClient.newHttpClient();
  private final CountDownLatch letGo = new CountDownLatch(1);

  @TempDir Path folder;

  private CompletableFuture<HttpResponse<String>> ask(FhirServer server, String path) {
    HttpRequest request = HttpRequest.newBuilder(URI.create(server.base() + path)).build();
    return client.sendAsync(request, BodyHandlers.ofString());
  }

  @Test
  void the_one_too_many_is_answered_while_the_others_wait() throws Exception {
    PoolLimits one = new PoolLimits(1, 2, Duration.ofMinutes(2), Duration.ZERO);
    HeldTrail trail = new HeldTrail();
    try (JdbcStore store = SqliteStore.open(folder, one);
        FhirServer server = new FhirServer(new AccessMode.Development(), store, trail)) {
      CountDownLatch holding = new CountDownLatch(1);
      Thread holder = new Thread(() -> store.read(state -> hold(holding)));
      holder.start();
      holding.await();
      List<CompletableFuture<HttpResponse<String>>> waiting =
          List.of(ask(server, "/Patient"), ask(server, "/Device"));
      Awaitility.await().until(store::crowded);

      HttpResponse<String> tooMany = ask(server, "/Procedure").get();

      assertThat(waiting).noneMatch(CompletableFuture::isDone);
      assertThat(holder.isAlive()).isTrue();
      assertThat(tooMany.statusCode()).isEqualTo(503);
      assertThat(tooMany.headers().firstValue("Retry-After")).contains("1");
      assertThat(tooMany.body()).contains("OperationOutcome", "IND-0462");
      AuditEntry row = trail.next().rows().get(0);
      assertThat(row.status()).isEqualTo(503);
      assertThat(row.reason()).contains("IND-0462");
      // What needs no store is answered meanwhile.
      assertThat(ask(server, "/metadata").get().statusCode()).isEqualTo(200);
      letGo.countDown();
      holder.join();
      for (CompletableFuture<HttpResponse<String>> waited : waiting) {
        assertThat(waited.get().statusCode()).isEqualTo(200);
      }
      assertThat(ask(server, "/Procedure").get().statusCode()).isEqualTo(200);
    } finally {
      letGo.countDown();
    }
  }

  private String hold(CountDownLatch holding) {
    try {
      holding.countDown();
      letGo.await();
      return "held";
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return "interrupted";
    }
  }
}
