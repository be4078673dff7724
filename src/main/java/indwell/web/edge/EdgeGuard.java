package indwell.web.edge;

import indwell.port.trace.Tracing;
import indwell.web.RequestNotes;
import io.netty.channel.Channel;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.channel.ChannelPipeline;
import io.netty.handler.codec.http.HttpRequestDecoder;
import io.netty.handler.codec.http.HttpResponseEncoder;
import io.netty.util.AttributeKey;
import java.time.Duration;
import java.util.Optional;

/** Puts a {@link RequestClock} into connections. */
public final class EdgeGuard {
  private static final AttributeKey<RequestClock> CLOCK =
      AttributeKey.valueOf(RequestClock.class.getName());

  private final EdgeLimits limits;
  private final Traffic traffic = new Traffic();
  private final RequestIds ids;
  private final RequestLog log;
  private final RequestSpans spans;

  /**
   * @param seed a number that no other process has, for the ids of requests
   * @param logged whether each request gets a line in the log
   * @param tracing is told of each request
   */
  public EdgeGuard(EdgeLimits limits, long seed, boolean logged, Tracing tracing) {
    this.limits = limits;
    this.ids = new RequestIds(seed);
    this.log = new RequestLog(logged);
    this.spans = new RequestSpans(tracing);
  }

  /** Of the request of a guarded connection that is answered next; on its event loop. */
  static Optional<RequestNotes> notes(Channel connection) {
    return Optional.ofNullable(connection.attr(CLOCK).get()).flatMap(RequestClock::next);
  }

  /** What goes through these connections. */
  public Traffic traffic() {
    return traffic;
  }

  /** Longest that a stop waits for them. */
  Duration stop() {
    return limits.stop();
  }

  /** Guards a connection from here on; the time for its first head begins. */
  public void guard(Channel connection) {
    LineStart line = new LineStart();
    RequestClock clock = new RequestClock(limits, traffic, ids, log, spans, line);
    connection.attr(CLOCK).set(clock);
    connection.pipeline().addFirst(new Bytes(clock, line));
  }

  /** Sees the bytes as they come, and puts the clock behind the coding of HTTP once it is there. */
  private static final class Bytes extends ChannelInboundHandlerAdapter {
    private final RequestClock clock;
    private final LineStart line;
    private boolean placed;

    private Bytes(RequestClock clock, LineStart line) {
      this.clock = clock;
      this.line = line;
    }

    @Override
    public void handlerAdded(ChannelHandlerContext context) {
      if (context.channel().isActive()) {
        clock.headBegins(context);
      }
    }

    @Override
    public void channelActive(ChannelHandlerContext context) {
      clock.headBegins(context);
      context.fireChannelActive();
    }

    @Override
    public void channelRead(ChannelHandlerContext context, Object message) {
      // With TLS the coding of HTTP comes after the handshake.
      if (!placed) {
        place(context.pipeline());
      }
      clock.headBegins(context);
      context.fireChannelRead(message);
    }

    private void place(ChannelPipeline pipeline) {
      ChannelHandlerContext encoder = pipeline.context(HttpResponseEncoder.class);
      ChannelHandlerContext decoder = pipeline.context(HttpRequestDecoder.class);
      if (encoder != null && decoder != null) {
        pipeline.addBefore(decoder.name(), "indwell-line", line);
        pipeline.addAfter(encoder.name(), "indwell-clock", clock);
        placed = true;
      }
    }
  }
}
