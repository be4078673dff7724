package indwell.boot.demo;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The events of the demo ward, an invented scenario in {@code /indwell/demo/ward.txt}.
 *
 * <p>The times hang on the moment of loading, so a second loading at another moment would send the
 * same event ids with other contents: load it into a store that has no event of {@link #SOURCE}.
 */
public final class DemoWard {
  /** The sending system that the demo's events name. */
  public static final String SOURCE = "demo-ward";

  private static final String TEXT = "/indwell/demo/ward.txt";
  private static final String NAMES = "https://demo.indwell.example/";
  private static final Pattern TIME = Pattern.compile("@\\{([^}]*)}");
  private static final Pattern CYCLE = Pattern.compile("@\\[([^\\]]*)]");

  private final DemoTimes times;
  private final Map<String, Integer> namesGiven = new HashMap<>();

  private DemoWard(DemoTimes times) {
    this.times = times;
  }

  /**
   * The bodies of all events as {@code POST /events} takes them, in the order in which they
   * happened; none is later than {@code now}.
   *
   * @param now the moment of loading
   * @param zone the facility's zone, in which the scenario's dates and clock times are read
   */
  public static List<String> events(Instant now, ZoneId zone) {
    DemoWard ward = new DemoWard(new DemoTimes(now, zone));
    List<Placed> placed = new ArrayList<>();
    for (String line : text()) {
      if (!line.isBlank() && !line.startsWith("#")) {
        placed.addAll(ward.place(DemoLine.parse(line)));
      }
    }
    placed.sort(Comparator.comparing(Placed::at));
    return placed.stream().map(Placed::body).toList();
  }

  /** An event's body and when it happened. */
  private record Placed(Instant at, String body) {}

  private List<Placed> place(DemoLine line) {
    List<Placed> placed = new ArrayList<>();
    for (Instant at : times.moments(line.when())) {
      placed.add(new Placed(at, body(line, at, placed.size())));
    }
    return placed;
  }

  private String body(DemoLine line, Instant at, int indexInRow) {
    String body =
        "{\"source\":\"%s\",\"eventId\":\"%s\",\"version\":%d,\"status\":\"%s\",\"type\":\"%s\""
            .formatted(SOURCE, eventId(line), line.version(), status(line), line.type());
    body += ",\"occurredAt\":\"" + times.written(at) + "\"";
    body += ",\"patient\":" + identifier("patient", line.patient());
    body += ",\"encounter\":" + identifier("stay", line.patient().replace("W-", "S-"));
    body += ",\"recorder\":" + identifier("staff", line.patient().replace("W-", "N-"));
    if (line.withdrawn()) {
      // What is taken back needs no details, and empty ones would be refused.
      return body + "}";
    }
    return body + ",\"details\":" + filled(line.details(), at, indexInRow) + "}";
  }

  private String eventId(DemoLine line) {
    if (!line.name().isEmpty()) {
      return line.patient() + "/" + line.name();
    }
    String kind = line.patient() + "/" + line.type();
    return kind + "/" + namesGiven.merge(kind, 1, Integer::sum);
  }

  private static String status(DemoLine line) {
    return line.withdrawn() ? "entered-in-error" : "final";
  }

  private static String identifier(String kind, String value) {
    return "{\"system\":\"%s%s\",\"value\":\"%s\"}".formatted(NAMES, kind, value);
  }

  private String filled(String details, Instant at, int indexInRow) {
    Matcher cycle = CYCLE.matcher(details);
    String cycled =
        cycle.replaceAll(
            found -> {
              String[] values = found.group(1).split(" ", -1);
              return values[indexInRow % values.length];
            });
    Matcher time = TIME.matcher(cycled);
    return time.replaceAll(found -> times.written(times.moment(found.group(1), at)));
  }

  private static List<String> text() {
    try (InputStream in =
            Objects.requireNonNull(DemoWard.class.getResourceAsStream(TEXT), "demo text missing");
        BufferedReader lines =
            new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8))) {
      return lines.lines().toList();
    } catch (IOException failure) {
      throw new UncheckedIOException("The demo's text cannot be read.", failure);
    }
  }
}
