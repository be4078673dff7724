package indwell.web;

import io.vertx.core.Handler;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServer;
import io.vertx.core.http.HttpServerOptions;
import io.vertx.core.http.HttpServerRequest;
import java.util.concurrent.TimeUnit;

/** Handlers of the service on a port of this machine, for tests. */
public final class LocalServer {
  private LocalServer() {}

  /** Listens on a free port when this returns. */
  public static HttpServer of(Vertx vertx, Handler<HttpServerRequest> handler) throws Exception {
    return of(vertx, 0, handler);
  }

  /** Listens on that port when this returns; 0 is a free one. */
  public static HttpServer of(Vertx vertx, int port, Handler<HttpServerRequest> handler)
      throws Exception {
    return vertx
        .createHttpServer(new HttpServerOptions().setPort(port).setHost("127.0.0.1"))
        .requestHandler(handler)
        .listen()
        .toCompletionStage()
        .toCompletableFuture()
        .get(10, TimeUnit.SECONDS);
  }
}
