package indwell.boot.demo;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.boot.demo.DemoWardTest.Loading;
import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventVersion;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagCode;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.Timeline;
import indwell.intake.EventBodies;
import indwell.intake.Reading;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The demo ward as the intake and the rules read it, at many moments of loading. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class DemoFlagsTest {
  private static final Map<String, List<String>> FLAGS =
      new TreeMap<>(
          Map.ofEntries(
              Map.entry("C-102-1", List.of("need-review-overdue")),
              Map.entry("C-103-2", List.of("securement-change-overdue")),
              Map.entry("C-104-1", List.of("no-accepted-indication", "output-charting-overdue")),
              Map.entry("C-105-1", List.of("care-check-overdue", "insertion-steps-missing")),
              Map.entry("C-106-1", List.of("postoperative-removal-overdue")),
              Map.entry("C-107-1", List.of("dwell-limit-exceeded")),
              Map.entry("C-108-3", List.of("balloon-fill-mismatch")),
              Map.entry("C-109-1", List.of("low-urine-output")),
              Map.entry("C-110-1", List.of("removal-not-recorded")),
              Map.entry("C-111-1", List.of("overlapping-catheters")),
              Map.entry("C-111-2", List.of("overlapping-catheters"))));

  static Stream<Loading> loadings() {
    return DemoWardTest.loadings();
  }

  @ParameterizedTest
  @MethodSource("loadings")
  void the_intake_accepts_every_event(Loading loading) {
    assertThat(readings(loading)).allMatch(reading -> reading instanceof Reading.Accepted);
  }

  @ParameterizedTest
  @MethodSource("loadings")
  void each_catheter_has_the_flags_of_its_story_and_no_other(Loading loading) {
    Map<String, List<String>> found = new TreeMap<>();
    FacilityCalendar calendar = new FacilityCalendar(loading.zone());
    for (Timeline timeline : timelines(loading)) {
      AllRules.inForce(new Bedside(timeline, RuleSettings.DEFAULTS, calendar), loading.now())
          .forEach(
              flag ->
                  found
                      .computeIfAbsent(
                          flag.catheter().catheter().value(), none -> new ArrayList<>())
                      .add(flag.code().code()));
    }
    found.values().forEach(codes -> codes.sort(null));

    assertThat(found).isEqualTo(FLAGS);
  }

  @Test
  void the_stories_show_every_flag_that_there_is() {
    assertThat(FLAGS.values().stream().flatMap(List::stream).distinct())
        .containsExactlyInAnyOrderElementsOf(
            Arrays.stream(FlagCode.values()).map(FlagCode::code).toList());
  }

  private static List<Reading> readings(Loading loading) {
    return DemoWard.events(loading.now(), loading.zone()).stream()
        .map(body -> EventBodies.line(body.getBytes(StandardCharsets.UTF_8), loading.now()))
        .toList();
  }

  /** One timeline for each patient, of the highest version of each event. */
  private static List<Timeline> timelines(Loading loading) {
    Map<EventKey, EventVersion> current = new HashMap<>();
    for (Reading reading : readings(loading)) {
      EventVersion version = ((Reading.Accepted) reading).version();
      current.merge(version.key(), version, (a, b) -> a.version() > b.version() ? a : b);
    }
    Map<String, List<BedsideEvent>> byPatient = new TreeMap<>();
    for (EventVersion version : current.values()) {
      if (version instanceof EventVersion.Stated stated) {
        byPatient
            .computeIfAbsent(stated.patient().value(), none -> new ArrayList<>())
            .add(stated.event());
      }
    }
    Collection<List<BedsideEvent>> patients = byPatient.values();
    return patients.stream().map(events -> Timeline.asOf(events, loading.now())).toList();
  }
}
