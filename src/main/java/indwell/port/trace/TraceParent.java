package indwell.port.trace;

import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Where a caller is in a trace. Source: W3C Trace Context, Recommendation of 23 November 2021,
 * sections 3.2 and 4.3.
 *
 * @param trace 32 hexadecimal digits, not all 0
 * @param span 16 hexadecimal digits, not all 0
 * @param sampled whether the caller may have recorded its part
 */
public record TraceParent(String trace, String span, boolean sampled) {
  private static final Pattern FORM =
      Pattern.compile(
          "((?!ff)[0-9a-f]{2})-((?!0{32})[0-9a-f]{32})-((?!0{16})[0-9a-f]{16})-([0-9a-f]{2})(-.*)?");

  /** Of the version that is known; what a later one adds behind the flags is passed over. */
  private static final String VERSION = "00";

  private static final int SAMPLED = 1;

  /**
   * Reads the headers {@code traceparent} of a request; empty for none, for more than one, and for
   * whatever is not of the form, for then a new trace begins.
   */
  public static Optional<TraceParent> read(List<String> headers) {
    if (headers.size() != 1) {
      return Optional.empty();
    }
    Matcher read = FORM.matcher(headers.get(0));
    if (!read.matches() || (VERSION.equals(read.group(1)) && read.group(5) != null)) {
      return Optional.empty();
    }
    boolean sampled = (Integer.parseInt(read.group(4), 16) & SAMPLED) != 0;
    return Optional.of(new TraceParent(read.group(2), read.group(3), sampled));
  }

  /** The header, of the version that is known. */
  public String header() {
    return VERSION + "-" + trace + "-" + span + (sampled ? "-01" : "-00");
  }
}
