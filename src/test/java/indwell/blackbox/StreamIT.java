package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A long stream of events is taken in bounded memory. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class StreamIT {
  private static final int EVENTS = 10_000;
  private static final Pattern USED = Pattern.compile("(?:heap|generation)\\s.*?used (\\d+)K");

  @TempDir Path data;

  @Test
  void ten_thousand_events_are_taken_without_growth_of_heap() throws Exception {
    try (RunningService service =
        RunningService.start(
            Map.of("INDWELL_DATA_DIR", data.toString()), "-XX:+UseSerialGC", "-Xmx400m")) {
      assertAllRecorded(service, "warm", 500);
      long before = usedKilobytes(service);
      assertAllRecorded(service, "long", EVENTS);
      long after = usedKilobytes(service);
      assertThat(after - before).as("growth of live heap in KiB").isLessThan(20 * 1024);
    }
  }

  private static void assertAllRecorded(RunningService service, String name, int events)
      throws Exception {
    String body =
        IntStream.range(0, events).mapToObj(i -> line(name, i)).collect(Collectors.joining("\n"));
    HttpResponse<String> answer = service.post("/events", "application/x-ndjson", body);
    assertThat(answer.statusCode()).isEqualTo(200);
    List<String> lines = answer.body().lines().toList();
    assertThat(lines).hasSize(events);
    for (int i = 0; i < events; i++) {
      assertThat(lines.get(i)).startsWith("{\"index\":" + (i + 1) + ",").contains("\"recorded\"");
    }
  }

  /** A thousand patients, who are weighed again and again. */
  private static String line(String name, int i) {
    return """
        {"source":"stream","eventId":"%s-%d","type":"weight-measured","occurredAt":"2026-01-01T00:00:00Z",\
        "patient":{"system":"urn:patient","value":"%s-%d"},"details":{"kg":%d}}"""
        .formatted(name, i, name, i % 1000, 40 + i % 60);
  }

  private static long usedKilobytes(RunningService service) throws Exception {
    jcmd(service, "GC.run");
    Matcher used = USED.matcher(jcmd(service, "GC.heap_info"));
    long sum = 0;
    while (used.find()) {
      sum += Long.parseLong(used.group(1));
    }
    assertThat(sum).as("heap in use").isPositive();
    return sum;
  }

  private static String jcmd(RunningService service, String command) throws Exception {
    Process process =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "jcmd").toString(),
                Long.toString(service.pid()),
                command)
            .redirectErrorStream(true)
            .start();
    String output = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertThat(process.waitFor(60, TimeUnit.SECONDS)).isTrue();
    return output;
  }
}
