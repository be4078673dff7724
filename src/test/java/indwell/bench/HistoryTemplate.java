package indwell.bench;

import indwell.fhir.term.Ids;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Rows of episodes as intake wrote them, as lines of COPY, in which what another episode has
 * otherwise is left open: its number, the ids that are derived from that, and its days.
 */
final class HistoryTemplate {
  private static final String PATIENTS = "https://bench.example/patient";
  private static final String STAYS = "https://bench.example/stay";

  /** Types of what events make, and the names of what they make beside that. */
  private static final List<String> TYPES =
      List.of("Procedure", "Observation", "DeviceUseStatement", "Provenance");

  private static final List<String> NAMES =
      List.of("", "initial-drainage", "bag-off-floor", "closed-system");

  private static final Set<String> MILLIS =
      Set.of("start_at", "end_at", "with_start", "with_end", "first", "last");

  /** Columns of lists of the same. */
  private static final Set<String> LISTS_OF_MILLIS = Set.of("lows", "highs");

  /** Beyond this a number stands for an open end. */
  private static final long OPEN = 1L << 60;

  private static final Pattern LEFT_OPEN =
      Pattern.compile(
          "(?<id>(?<![a-z0-9])[a-z2-7]{26}(?![a-z0-9]))"
              + "|(?<=(?<![A-Za-z0-9])[PS]-)(?<number>\\d+)(?![\\d])"
              + "|(?<=bench:|\"eventId\":\")(?<event>\\d+)(?=/)"
              + "|(?<date>\\d{4}-\\d\\d-\\d\\d)(?=T)");

  /** A piece of a line. */
  private interface Piece {
    void to(StringBuilder line, Episode episode);
  }

  /** What is written into the open places. */
  private static final class Episode {
    private final int number;
    private final long days;
    private final String[] ids;

    private Episode(int number, int period) {
      this.number = number;
      this.days = (long) (number / period) * (period / House.A_DAY);
      this.ids = ids(number);
    }
  }

  private final String recordedOn;
  private final int period;
  private final Map<String, Integer> episodeOfId = new HashMap<>();
  private final Map<String, Integer> placeOfId = new HashMap<>();

  /** Lines by episode; those of none are of the house. */
  private final List<List<List<Piece>>> lines = new ArrayList<>();

  private final List<String> house = new ArrayList<>();

  /**
   * No lines yet.
   *
   * @param recordedOn the date on which all was recorded; it stays
   * @param period episodes after which they repeat
   */
  HistoryTemplate(LocalDate recordedOn, int period) {
    this.recordedOn = recordedOn.toString();
    this.period = period;
    for (int episode = 0; episode < period; episode++) {
      lines.add(new ArrayList<>());
      String[] ids = ids(episode);
      for (int i = 0; i < ids.length; i++) {
        episodeOfId.put(ids[i], episode);
        placeOfId.put(ids[i], i);
      }
    }
  }

  private static String[] ids(int number) {
    String patient = "P-" + number;
    List<String> ids = new ArrayList<>();
    ids.add(Ids.derive("Patient", PATIENTS, patient));
    ids.add(Ids.derive("Encounter", PATIENTS, patient, STAYS, "S-" + number));
    ids.add(Ids.derive("Device", PATIENTS, patient, "c1"));
    for (int event = 1; event <= House.EVENTS; event++) {
      String key = number + "/" + event;
      for (String type : TYPES) {
        ids.add(Ids.derive(type, "bench", key));
      }
      for (String name : NAMES.subList(1, NAMES.size())) {
        ids.add(Ids.derive("Observation", "bench", key, name));
      }
    }
    return ids.toArray(String[]::new);
  }

  /** Adds a line of a table with these columns. */
  void add(String line, List<String> columns) {
    Matcher matcher = LEFT_OPEN.matcher(line);
    while (matcher.find()) {
      if (matcher.group("id") != null) {
        Integer episode = episodeOfId.get(matcher.group("id"));
        if (episode == null) {
          throw new IllegalStateException("An id that nothing explains: " + line);
        }
        lines.get(episode).add(pieces(line, columns));
        return;
      }
    }
    house.add(line);
  }

  private List<Piece> pieces(String line, List<String> columns) {
    List<Piece> pieces = new ArrayList<>();
    String[] cells = line.split("\t", -1);
    for (int i = 0; i < cells.length; i++) {
      if (MILLIS.contains(columns.get(i))) {
        pieces.add(millis(Long.parseLong(cells[i])));
      } else if (LISTS_OF_MILLIS.contains(columns.get(i))) {
        list(cells[i], pieces);
      } else if (columns.get(i).equals("event_id")) {
        String rest = cells[i].substring(cells[i].indexOf('/'));
        pieces.add((out, episode) -> out.append(episode.number).append(rest));
      } else {
        text(cells[i], pieces);
      }
      String end = i + 1 < cells.length ? "\t" : "\n";
      pieces.add((out, episode) -> out.append(end));
    }
    return pieces;
  }

  private void list(String cell, List<Piece> pieces) {
    String before = "{";
    for (String value : cell.substring(1, cell.length() - 1).split(",")) {
      String separator = before;
      pieces.add((out, episode) -> out.append(separator));
      if (!value.isEmpty()) {
        pieces.add(millis(Long.parseLong(value)));
      }
      before = ",";
    }
    pieces.add((out, episode) -> out.append('}'));
  }

  private Piece millis(long value) {
    return Math.abs(value) > OPEN || dateOf(value).equals(recordedOn)
        ? (out, episode) -> out.append(value)
        : (out, episode) -> out.append(value + episode.days * 86_400_000L);
  }

  private static String dateOf(long millis) {
    return Instant.ofEpochMilli(millis).atZone(ZoneOffset.UTC).toLocalDate().toString();
  }

  private void text(String cell, List<Piece> pieces) {
    Matcher matcher = LEFT_OPEN.matcher(cell);
    int from = 0;
    while (matcher.find()) {
      if (recordedOn.equals(matcher.group("date"))) {
        continue;
      }
      String before = cell.substring(from, matcher.start());
      pieces.add((out, episode) -> out.append(before));
      pieces.add(open(matcher));
      from = matcher.end();
    }
    String rest = cell.substring(from);
    pieces.add((out, episode) -> out.append(rest));
  }

  private Piece open(Matcher matcher) {
    if (matcher.group("id") != null) {
      int place = placeOfId.get(matcher.group("id"));
      return (out, episode) -> out.append(episode.ids[place]);
    }
    if (matcher.group("date") != null) {
      LocalDate date = LocalDate.parse(matcher.group("date"));
      return (out, episode) -> out.append(date.plus(episode.days, ChronoUnit.DAYS));
    }
    return (out, episode) -> out.append(episode.number);
  }

  /** The lines that belong to no episode. */
  void house(StringBuilder out) {
    house.forEach(line -> out.append(line).append('\n'));
  }

  /** The lines of an episode. */
  void episode(int number, StringBuilder out) {
    Episode episode = new Episode(number, period);
    for (List<Piece> line : lines.get(number % period)) {
      for (Piece piece : line) {
        piece.to(out, episode);
      }
    }
  }
}
