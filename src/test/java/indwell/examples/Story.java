package indwell.examples;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventVersion;
import indwell.domain.time.FacilityCalendar;
import indwell.intake.EventBodies;
import indwell.intake.EventBody;
import indwell.intake.Reading;
import java.io.IOException;
import java.io.Reader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.TreeMap;
import java.util.stream.Stream;

/**
 * One folder of examples/, with what its story.properties say.
 *
 * @param end last date, inclusive
 * @param asOf the moments asked about, ascending
 */
record Story(
    Path folder,
    FacilityCalendar calendar,
    LocalTime countTime,
    LocalDate start,
    LocalDate end,
    List<Instant> asOf) {

  /** After every story; the clock of all of them. */
  static final Instant NOW = Instant.parse("2026-01-01T00:00:00Z");

  /** All stories, by name. */
  static List<Story> all() throws IOException {
    List<Story> stories = new ArrayList<>();
    try (Stream<Path> folders = Files.list(Path.of("examples"))) {
      for (Path folder : folders.filter(Files::isDirectory).sorted().toList()) {
        stories.add(in(folder));
      }
    }
    return stories;
  }

  private static Story in(Path folder) throws IOException {
    Properties given = new Properties();
    try (Reader reader = Files.newBufferedReader(folder.resolve("story.properties"))) {
      given.load(reader);
    }
    return new Story(
        folder,
        new FacilityCalendar(ZoneId.of(given.getProperty("zone"))),
        LocalTime.parse(given.getProperty("countTime")),
        LocalDate.parse(given.getProperty("start")),
        LocalDate.parse(given.getProperty("end")),
        Arrays.stream(given.getProperty("asOf").split(" "))
            .map(time -> OffsetDateTime.parse(time).toInstant())
            .toList());
  }

  /** What the intake reads of 0-events.json, in the order of arrival. */
  List<Reading> readings() throws IOException {
    byte[] body = Files.readAllBytes(folder.resolve("0-events.json"));
    return ((EventBody.Batch) EventBodies.read(body, NOW)).readings();
  }

  /** The current events of each patient: the highest versions, without what is withdrawn. */
  Map<String, List<BedsideEvent>> currentEvents() throws IOException {
    Map<EventKey, EventVersion> highest = new HashMap<>();
    for (Reading reading : readings()) {
      EventVersion version = ((Reading.Accepted) reading).version();
      highest.merge(version.key(), version, (a, b) -> a.version() > b.version() ? a : b);
    }
    Map<String, List<BedsideEvent>> current = new TreeMap<>();
    for (EventVersion version : highest.values()) {
      if (version instanceof EventVersion.Stated stated) {
        current
            .computeIfAbsent(version.patient().value(), none -> new ArrayList<>())
            .add(stated.event());
      }
    }
    return current;
  }

  @Override
  public String toString() {
    return folder.getFileName().toString();
  }
}
