package indwell.intake;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.io.JsonEOFException;
import indwell.domain.refusal.IssueCode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Consumer;

/**
 * Reads untrusted bytes as RFC 8259 JSON: strict UTF-8, one value and nothing behind it. Finds what
 * usual parsers let through: names that stand twice, numbers that cost minutes to calculate,
 * nesting and strings without bound. Works in one pass without recursion, so that time and memory
 * grow with the length of the body only.
 */
public final class JsonGate {
  /**
   * The parser's own limits are off: the gate has its own, told apart from broken syntax. Names are
   * not interned, since callers make them up.
   */
  private static final JsonFactory JSON =
      JsonFactory.builder()
          .disable(JsonFactory.Feature.INTERN_FIELD_NAMES)
          .streamReadConstraints(
              StreamReadConstraints.builder()
                  .maxNestingDepth(Integer.MAX_VALUE)
                  .maxNumberLength(Integer.MAX_VALUE)
                  .maxStringLength(Integer.MAX_VALUE)
                  .maxNameLength(Integer.MAX_VALUE)
                  .build())
          .build();

  private JsonGate() {}

  /**
   * One element of an array body.
   *
   * @param value as {@link GateResult.Tree#root()}
   * @param findings faults of its values
   */
  public record Element(Object value, List<GateFinding> findings) {}

  /** Reads a whole body into a tree. */
  public static GateResult read(byte[] body, GateLimits limits) {
    return read(body, new TreeBuilder(limits, Optional.empty()));
  }

  /**
   * Reads a body; when it is an array, each element goes to {@code elements} as soon as it is
   * complete, and the tree that is returned has an empty list for a root. A result of {@link
   * GateResult.Stopped} makes the elements handed over before it void.
   */
  public static GateResult read(byte[] body, GateLimits limits, Consumer<Element> elements) {
    return read(body, new TreeBuilder(limits, Optional.of(elements)));
  }

  private static GateResult read(byte[] body, TreeBuilder tree) {
    OptionalInt fault = Utf8.firstFault(body);
    if (fault.isPresent()) {
      return malformed("is no UTF-8 at byte " + (fault.getAsInt() + 1));
    }
    try (JsonParser parser = JSON.createParser(body)) {
      return read(parser, tree);
    } catch (JsonEOFException e) {
      return malformed("ends before its JSON does" + placeOrNone(e.getLocation()));
    } catch (JsonProcessingException e) {
      return malformed("is no JSON" + placeOrNone(e.getLocation()));
    } catch (IllegalStateException e) {
      // The parser's table of names gives up when names are made to collide on purpose.
      return malformed("holds names made to collide");
    } catch (IOException e) {
      throw new UncheckedIOException("Reading from memory cannot fail", e);
    }
  }

  private static GateResult read(JsonParser parser, TreeBuilder tree) throws IOException {
    while (!tree.complete()) {
      JsonToken token = parser.nextToken();
      if (token == null) {
        return malformed("is empty");
      }
      Optional<GateResult> stopped = tree.take(token, parser);
      if (stopped.isPresent()) {
        return stopped.get();
      }
    }
    if (parser.nextToken() != null) {
      return malformed("goes on after its value" + place(parser.currentTokenLocation()));
    }
    return tree.result();
  }

  private static String placeOrNone(JsonLocation location) {
    return location == null ? "" : place(location);
  }

  private static String place(JsonLocation at) {
    return " at line " + at.getLineNr() + ", column " + at.getColumnNr();
  }

  private static GateResult malformed(String what) {
    return new GateResult.Stopped(
        IssueCode.MALFORMED_JSON, "The text " + what + "; expected one JSON value in UTF-8.");
  }
}
