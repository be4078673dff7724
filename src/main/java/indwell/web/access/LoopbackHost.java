package indwell.web.access;

import java.util.List;
import java.util.regex.Pattern;

/**
 * Whether a request was meant for this machine. A page of another site can have its own name lead
 * here (DNS rebinding); its browser then sends that name, so nothing else than the names of the
 * loopback is answered while nobody is asked who they are.
 */
final class LoopbackHost {
  private static final Pattern NAME =
      Pattern.compile(
          "(?i)(localhost|127(\\.(0|[1-9][0-9]{0,2})){3}|\\[::1]|\\[0:0:0:0:0:0:0:1])(:[0-9]{1,5})?");

  private LoopbackHost() {}

  /**
   * Whether all of them name the loopback; HTTP/1.0 has none, and no browser speaks it.
   *
   * @param hosts the values of header {@code Host}
   */
  static boolean meant(List<String> hosts) {
    return hosts.stream().allMatch(host -> NAME.matcher(host.trim()).matches());
  }
}
