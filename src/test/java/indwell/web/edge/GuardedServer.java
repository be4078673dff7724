package indwell.web.edge;

import indwell.port.trace.NoTracing;
import io.vertx.core.Handler;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServer;
import io.vertx.core.http.HttpServerOptions;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.core.net.impl.ConnectionBase;
import java.time.Duration;
import java.util.concurrent.TimeUnit;

/** A handler on a port of this machine whose connections are guarded. */
final class GuardedServer implements AutoCloseable {
  /** Long enough for a machine that is busy to answer what is answered at once. */
  static final Duration TIME = Duration.ofMillis(300);

  final Vertx vertx = Vertx.vertx();
  final EdgeGuard guard = new EdgeGuard(new EdgeLimits(TIME, TIME, TIME), 7, true, NoTracing.OFF);
  private final HttpServer server;

  GuardedServer(Handler<HttpServerRequest> handler) throws Exception {
    server =
        vertx
            .createHttpServer(
                new HttpServerOptions()
                    .setPort(0)
                    .setHost("127.0.0.1")
                    .setHttp2ClearTextEnabled(false))
            .connectionHandler(connection -> guard.guard(((ConnectionBase) connection).channel()))
            .requestHandler(handler)
            .listen()
            .toCompletionStage()
            .toCompletableFuture()
            .get(10, TimeUnit.SECONDS);
  }

  int port() {
    return server.actualPort();
  }

  @Override
  public void close() throws Exception {
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
  }
}
