package indwell.web.edge;

import io.netty.buffer.ByteBuf;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelInboundHandlerAdapter;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Keeps the first bytes of a request: of a line that is too long to be read the coding of HTTP
 * keeps nothing, and an error has the shape that errors have at its address. It stands before that
 * coding.
 */
final class LineStart extends ChannelInboundHandlerAdapter {
  private static final int MOST = 64;
  private static final Pattern LINE =
      Pattern.compile("\\s*[A-Za-z]+ (/[^ ?\r\n]*).*", Pattern.DOTALL);

  private final StringBuilder first = new StringBuilder(MOST);
  private boolean between = true;

  @Override
  public void channelRead(ChannelHandlerContext context, Object message) {
    if (between && message instanceof ByteBuf bytes && first.length() < MOST) {
      int length = Math.min(MOST - first.length(), bytes.readableBytes());
      first.append(bytes.toString(bytes.readerIndex(), length, StandardCharsets.ISO_8859_1));
    }
    context.fireChannelRead(message);
  }

  /** A request has begun; bytes are no beginning from here on. */
  void requestBegins() {
    between = false;
    first.setLength(0);
  }

  /** No request is under way; the next bytes begin one. */
  void requestsEnded() {
    between = true;
  }

  /** The beginning of the path; empty where it is not known, as of a request sent in advance. */
  Optional<String> path() {
    Matcher line = LINE.matcher(first);
    return line.matches() ? Optional.of(line.group(1)) : Optional.empty();
  }
}
