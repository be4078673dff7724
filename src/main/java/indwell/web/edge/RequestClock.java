package indwell.web.edge;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.web.HttpAnswer;
import indwell.web.RequestNotes;
import indwell.web.access.Denial;
import indwell.web.access.DenialAnswers;
import io.netty.channel.ChannelDuplexHandler;
import io.netty.channel.ChannelFutureListener;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelPromise;
import io.netty.handler.codec.http.HttpRequest;
import io.netty.handler.codec.http.HttpResponse;
import io.netty.handler.codec.http.HttpStatusClass;
import io.netty.handler.codec.http.LastHttpContent;
import io.netty.handler.ssl.SslHandler;
import io.netty.util.ReferenceCountUtil;
import java.nio.channels.ClosedChannelException;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/**
 * Gives each request of a connection its time, between the coding of HTTP and the server. It sees
 * heads and ends of requests and answers as they are read and written, whoever answers.
 *
 * <p>A request that is given up is answered only where the answer is true: 408 while its body has
 * not come whole, so that nothing was done; 503 when it only reads. One that may have been written
 * is cut without an answer, as it would be by a power cut, and may be sent again.
 */
// What becomes of a write or a close is told by the events of the connection.
@SuppressWarnings("FutureReturnValueIgnored")
final class RequestClock extends ChannelDuplexHandler {
  /** How long the client has to take the answer in before the connection is closed. */
  private static final long LINGER_MILLIS = 1_000;

  private final EdgeLimits limits;
  private final Traffic traffic;
  private final RequestIds ids;
  private final RequestLog log;
  private final RequestSpans spans;
  private final LineStart line;
  private final Deque<UnderWay> unanswered = new ArrayDeque<>();
  private final List<UnderWay> all = new ArrayList<>();
  private @Nullable Future<?> headTimer;
  private boolean givenUp;

  RequestClock(
      EdgeLimits limits,
      Traffic traffic,
      RequestIds ids,
      RequestLog log,
      RequestSpans spans,
      LineStart line) {
    this.limits = limits;
    this.traffic = traffic;
    this.ids = ids;
    this.log = log;
    this.spans = spans;
    this.line = line;
  }

  /** Of the request that is answered next: the server takes them one at a time, in their order. */
  Optional<RequestNotes> next() {
    return Optional.ofNullable(unanswered.peek()).map(request -> request.notes);
  }

  /** Bytes have come, or may come at last: between two requests they begin a head. */
  void headBegins(ChannelHandlerContext context) {
    if (headTimer == null && all.isEmpty() && !givenUp) {
      headTimer =
          context
              .executor()
              .schedule(
                  () -> {
                    traffic.slowHead();
                    context.close();
                  },
                  limits.head().toMillis(),
                  TimeUnit.MILLISECONDS);
    }
  }

  @Override
  public void channelRead(ChannelHandlerContext context, Object message) {
    if (givenUp) {
      ReferenceCountUtil.release(message);
      return;
    }
    if (message instanceof HttpRequest head && !begin(context, head)) {
      ReferenceCountUtil.release(message);
      return;
    }
    if (message instanceof LastHttpContent && !all.isEmpty()) {
      UnderWay latest = all.get(all.size() - 1);
      latest.arrived = true;
      endIfOver(latest);
    }
    context.fireChannelRead(message);
  }

  /** Whether it may go on: a head that cannot be read is answered here, if its turn has come. */
  private boolean begin(ChannelHandlerContext context, HttpRequest head) {
    stopHeadTimer();
    head.setUri(RawSigns.encoded(head.uri()));
    Optional<Denial> fault = HeadFault.of(head);
    if (head.decoderResult().isFailure()) {
      line.path().ifPresent(head::setUri);
    }
    line.requestBegins();
    UnderWay request = new UnderWay(head, ids, spans);
    request.secure = context.pipeline().get(SslHandler.class) != null;
    all.add(request);
    unanswered.add(request);
    traffic.begin();
    if (fault.isPresent() && request.equals(unanswered.peek())) {
      giveUp(context, request, DenialAnswers.at(request.path, fault.get()));
      return false;
    }
    watch(context, request);
    return true;
  }

  private void watch(ChannelHandlerContext context, UnderWay request) {
    request.timer =
        context
            .executor()
            .schedule(
                () -> late(context, request), limits.whole().toMillis(), TimeUnit.MILLISECONDS);
  }

  @Override
  public void write(ChannelHandlerContext context, Object message, ChannelPromise promise) {
    if (givenUp) {
      ReferenceCountUtil.release(message);
      promise.tryFailure(new ClosedChannelException());
      return;
    }
    UnderWay request = unanswered.peek();
    if (request == null || isInterim(message)) {
      context.write(message, promise);
      return;
    }
    if (message instanceof HttpResponse head) {
      request.begun = true;
      request.status = head.status().code();
      head.headers().set(RequestIds.HEADER, request.errand.request());
      traffic.answered(request.path, request.status);
      request.lineByLine(head.headers().get("Content-Type"));
    }
    ChannelPromise written = promise;
    if (message instanceof LastHttpContent) {
      unanswered.remove();
      written = promise.unvoid();
      written.addListener(
          ignored -> {
            request.answered = true;
            endIfOver(request);
          });
    }
    context.write(message, written);
  }

  /** 100 Continue answers nothing yet. */
  private static boolean isInterim(Object message) {
    return message instanceof HttpResponse head
        && head.status().codeClass() == HttpStatusClass.INFORMATIONAL;
  }

  private void endIfOver(UnderWay request) {
    if (request.isOver() && all.remove(request)) {
      stop(request);
    }
    if (all.isEmpty()) {
      line.requestsEnded();
    }
  }

  private void stop(UnderWay request) {
    if (request.timer != null) {
      request.timer.cancel(false);
    }
    traffic.end();
    log.over(request);
    spans.end(request);
  }

  private void stopHeadTimer() {
    if (headTimer != null) {
      headTimer.cancel(false);
      headTimer = null;
    }
  }

  @Override
  public void channelInactive(ChannelHandlerContext context) {
    stopHeadTimer();
    givenUp = true;
    all.forEach(this::stop);
    all.clear();
    context.fireChannelInactive();
  }

  private void late(ChannelHandlerContext context, UnderWay request) {
    if (request.isStream()) {
      watch(context, request);
      return;
    }
    boolean body = !request.arrived;
    if (body) {
      traffic.slowBody();
    } else {
      traffic.slowAnswer();
    }
    boolean canBeTold = !request.begun && request.equals(unanswered.peek());
    if (canBeTold && (body || request.readsAlone())) {
      giveUp(context, request, DenialAnswers.at(request.path, body ? slowBody() : slowAnswer()));
    } else {
      context.close();
    }
  }

  private Denial slowBody() {
    return denial(
        408,
        IssueCode.REQUEST_TOO_SLOW,
        "The request did not arrive in "
            + shown(limits.whole())
            + "; expected the whole of it within that time.");
  }

  private Denial slowAnswer() {
    return denial(
        503,
        IssueCode.ANSWER_TOO_SLOW,
        "The answer was not there in "
            + shown(limits.whole())
            + "; expected a question for less, or the same again later.");
  }

  private static String shown(Duration time) {
    return time.toMillis() % 1000 == 0 ? time.toSeconds() + " s" : time.toMillis() + " ms";
  }

  private static Denial denial(int status, IssueCode code, String sentence) {
    return new Denial(status, Issue.error(code, "", sentence), Optional.empty());
  }

  private void giveUp(ChannelHandlerContext context, UnderWay request, HttpAnswer answer) {
    givenUp = true;
    request.status = answer.status();
    answer.reason().ifPresent(request.notes::refused);
    traffic.answered(request.path, request.status);
    context
        .writeAndFlush(request.response(answer))
        .addListener(ChannelFutureListener.CLOSE_ON_FAILURE)
        .addListener(
            ignored ->
                context
                    .executor()
                    .schedule(() -> context.close(), LINGER_MILLIS, TimeUnit.MILLISECONDS));
  }
}
