package indwell.web.edge;

import io.netty.bootstrap.ChannelInitializerExtension;
import io.netty.channel.Channel;
import java.util.Optional;

/**
 * The way to connections before anything of HTTP has been read from them, which neither the server
 * nor its framework offers. Netty makes it by itself, if it is told to by {@link #SWITCH}, so what
 * it works with is static.
 */
public final class EdgeExtension extends ChannelInitializerExtension {
  /** System property that makes Netty look for extensions when set to {@code serviceload}. */
  public static final String SWITCH = "io.netty.bootstrap.extensions";

  private static volatile Optional<EdgeGuard> installed = Optional.empty();

  /** Guards all connections that are accepted from now on. */
  static void install(EdgeGuard guard) {
    installed = Optional.of(guard);
  }

  @Override
  public void postInitializeServerChildChannel(Channel connection) {
    installed.ifPresent(guard -> guard.guard(connection));
  }
}
