package indwell.web;

import io.vertx.core.Context;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpMethod;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.core.http.HttpServerResponse;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;

/**
 * One request and its answer, on the event loop that owns its connection. The answer begins when
 * what has to be done before it is done.
 *
 * <p>An answer may be sent before the request has been read. The rest of the request is then read
 * and dropped for a while, because closing a connection with unread bytes in it can destroy the
 * answer on its way (RFC 9112, section 9.6).
 */
public final class Exchange {
  /** A rest of a body up to this size is dropped so that the connection can be used again. */
  private static final long DROPPED_FOR_REUSE = 1L << 20;

  /** More is dropped for so long at most before the connection is closed. */
  private static final long LINGER_MILLIS = 5_000;

  private final HttpServerRequest request;
  private final Context context;
  private final BeforeAnswer before;
  private boolean continuePending;
  private boolean sent;

  /**
   * To be called on the event loop, before anything of the body has been read.
   *
   * @param before what has to be done before the answer begins
   */
  public Exchange(Vertx vertx, HttpServerRequest request, BeforeAnswer before) {
    this.request = request;
    this.before = before;
    this.context = vertx.getOrCreateContext();
    String expect = request.getHeader("Expect");
    this.continuePending = expect != null && expect.trim().equalsIgnoreCase("100-continue");
  }

  /** The request. */
  public HttpServerRequest request() {
    return request;
  }

  /** The Vert.x that runs the connection. */
  public Vertx vertx() {
    return context.owner();
  }

  /** The value of a request header; the first one if it stands more than once. */
  public Optional<String> header(String name) {
    return Optional.ofNullable(request.getHeader(name));
  }

  /** The length that the request states for its body, 0 when it has none, -1 when it is open. */
  public long declaredLength() {
    String length = request.getHeader("Content-Length");
    if (length == null) {
      return request.getHeader("Transfer-Encoding") == null ? 0 : -1;
    }
    try {
      return Long.parseLong(length.trim());
    } catch (NumberFormatException e) {
      return -1;
    }
  }

  /** Tells a client that waits for it to send the body now. */
  public void invite() {
    if (continuePending) {
      continuePending = false;
      request.response().writeContinue();
    }
  }

  /** Runs something on the event loop of this connection; callable from any thread. */
  public void onLoop(Runnable task) {
    context.runOnContext(ignored -> task.run());
  }

  /** Sends the answer from any thread. */
  public void sendFromWorker(HttpAnswer answer) {
    onLoop(() -> send(answer));
  }

  /**
   * Sends the answer as soon as it may leave; on the event loop only. Does nothing for a second
   * answer.
   */
  public void send(HttpAnswer answer) {
    if (sent || request.response().headWritten()) {
      return;
    }
    sent = true;
    CompletableFuture<HttpAnswer> leaving = before.leaving(answer).toCompletableFuture();
    if (leaving.isDone()) {
      write(leaving.join());
    } else {
      if (!request.isEnded()) {
        drop();
      }
      CompletableFuture<Void> unused = leaving.thenAccept(allowed -> onLoop(() -> write(allowed)));
    }
  }

  private void write(HttpAnswer answer) {
    HttpServerResponse response = request.response();
    if (response.headWritten() || response.closed()) {
      return;
    }
    answer.reason().ifPresent(code -> RequestNotes.here().ifPresent(notes -> notes.refused(code)));
    response.setStatusCode(answer.status());
    answer.headers().forEach(response::putHeader);
    boolean last = !request.isEnded() && !restIsSmall();
    if (last) {
      response.putHeader("Connection", "close");
    }
    finish(response, answer);
    if (!request.isEnded()) {
      dropRest(last);
    }
  }

  private void finish(HttpServerResponse response, HttpAnswer answer) {
    if (answer.file().isPresent()) {
      sendFile(response, answer.file().get());
      return;
    }
    if (answer.status() != 304) {
      response.putHeader("Content-Length", Integer.toString(answer.body().length()));
    }
    if (request.method().equals(HttpMethod.HEAD) || answer.body().length() == 0) {
      response.end();
    } else {
      response.end(answer.body());
    }
  }

  /** The length is stated first, so that a client sees it when the file did not come whole. */
  private void sendFile(HttpServerResponse response, Path file) {
    if (request.method().equals(HttpMethod.HEAD)) {
      response.putHeader("Content-Length", Long.toString(file.toFile().length()));
      response.end();
    } else {
      response
          .sendFile(file.toString())
          .onFailure(
              gone -> {
                if (!response.headWritten() && !response.closed()) {
                  response.setStatusCode(404).putHeader("Content-Length", "0").end();
                } else {
                  request.connection().close();
                }
              });
    }
  }

  /** Whether the unread rest of the body is known to come and to be small. */
  private boolean restIsSmall() {
    long length = declaredLength();
    return !continuePending && length >= 0 && length <= DROPPED_FOR_REUSE;
  }

  private void drop() {
    request.handler(ignored -> {});
    request.exceptionHandler(ignored -> {});
  }

  private void dropRest(boolean close) {
    drop();
    if (close) {
      request.endHandler(ignored -> request.connection().close());
      vertx().setTimer(LINGER_MILLIS, ignored -> request.connection().close());
    }
    request.resume();
  }
}
