package indwell.bench;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Catheter episodes of an invented house of forty wards, one stay after the other through the
 * years. After {@link #PERIOD} episodes the same ones come again, some days later.
 */
final class House {
  static final Instant FIRST_DAY = Instant.parse("2003-01-01T06:00:00Z");
  static final int WARDS = 40;

  /** Everything that an episode has of its number repeats after so many. */
  static final int PERIOD = 1_200;

  /** Events of one episode. */
  static final int EVENTS = 6;

  /** Stays that begin on one day. */
  static final int A_DAY = 120;

  private House() {}

  static String ward(int episode) {
    return "W-" + episode % WARDS;
  }

  /** The day on which an episode begins: a longer history reaches further back, not deeper. */
  static Instant begin(int episode) {
    return FIRST_DAY.plus(episode / A_DAY, ChronoUnit.DAYS);
  }

  /** The events of so many episodes, in the order of time by episode. */
  static List<byte[]> events(int from, int episodes) {
    return IntStream.range(from, from + episodes)
        .mapToObj(House::episode)
        .flatMap(List::stream)
        .toList();
  }

  private static List<byte[]> episode(int number) {
    Instant start = begin(number);
    String catheter = "\"catheterId\":\"c1\"";
    List<byte[]> events = new ArrayList<>();
    events.add(event(number, 1, start, "patient-admitted", "\"ward\":\"" + ward(number) + "\""));
    events.add(
        event(
            number,
            2,
            start.plus(1, ChronoUnit.HOURS),
            "catheter-inserted",
            catheter
                + ",\"route\":\"urethral\",\"sizeCh\":"
                + (14 + 2 * (number % 3))
                + ",\"balloonLabelMl\":10,\"balloonFilledMl\":10,\"indication\":\"acute-retention\""
                + ",\"urineReturnedMl\":"
                + (200 + number % 300)));
    events.add(
        event(
            number,
            3,
            start.plus(26, ChronoUnit.HOURS),
            "need-reviewed",
            catheter + ",\"stillNeeded\":true,\"indication\":\"acute-retention\""));
    events.add(
        event(
            number,
            4,
            start.plus(27, ChronoUnit.HOURS),
            "care-checked",
            catheter + ",\"items\":{\"bag-off-floor\":true,\"closed-system\":true}"));
    events.add(
        event(
            number,
            5,
            start.plus(72 + number % 48, ChronoUnit.HOURS),
            "catheter-removed",
            catheter));
    events.add(event(number, 6, start.plus(130, ChronoUnit.HOURS), "patient-discharged", ""));
    return events;
  }

  private static byte[] event(int episode, int number, Instant at, String type, String details) {
    return ("{\"source\":\"bench\",\"eventId\":\"%d/%d\",\"type\":\"%s\",\"occurredAt\":\"%s\","
            + "\"patient\":{\"system\":\"https://bench.example/patient\",\"value\":\"P-%d\"},"
            + "\"encounter\":{\"system\":\"https://bench.example/stay\",\"value\":\"S-%d\"},"
            + "\"details\":{%s}}")
        .formatted(episode, number, type, at, episode, episode, details)
        .getBytes(StandardCharsets.UTF_8);
  }
}
