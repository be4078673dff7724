package indwell.web;

import static org.assertj.core.api.Assertions.assertThat;

import io.vertx.core.Vertx;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpServer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Those who order a file and do not take it in hold a connection, and nothing that others need. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SlowReadersTest {
  private static final int LARGE = 16 << 20;
  private static final int WORKERS = 2;

  @TempDir Path folder;

  @Test
  void a_file_that_nobody_takes_in_holds_no_worker() throws Exception {
    Path file = Files.write(folder.resolve("lines.ndjson"), new byte[LARGE]);
    Vertx vertx = Vertx.vertx();
    Workers workers = new Workers("slow-readers", WORKERS);
    HttpServer server =
        LocalServer.of(
            vertx,
            request -> {
              Exchange exchange = new Exchange(vertx, request, BeforeAnswer.NOTHING);
              HttpAnswer answer = HttpAnswer.of(200, "text/plain", Buffer.buffer("small"));
              boolean large = request.path().equals("/file");
              workers.execute(
                  () -> exchange.sendFromWorker(large ? answer.withFile(file) : answer));
            });
    List<RawHttp> readers = new ArrayList<>();
    try {
      for (int i = 0; i < 3 * WORKERS; i++) {
        RawHttp reader = new RawHttp(server.actualPort());
        readers.add(reader.send("GET /file HTTP/1.1\r\nHost: localhost\r\n\r\n"));
        assertThat(reader.head().header("Content-Length")).isEqualTo(Integer.toString(LARGE));
      }
      try (RawHttp other = new RawHttp(server.actualPort())) {
        other.send("GET /small HTTP/1.1\r\nHost: localhost\r\n\r\n");
        assertThat(other.answer().body()).isEqualTo("small");
      }
      assertThat(readers.get(0).bytes(LARGE)).isEqualTo(LARGE);
    } finally {
      for (RawHttp reader : readers) {
        reader.close();
      }
      workers.stop(1_000);
      vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
    }
  }
}
