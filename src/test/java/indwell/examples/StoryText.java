package indwell.examples;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.Ward;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagSpan;
import indwell.domain.rule.RuleSettings;
import indwell.domain.timeline.CatheterDay;
import indwell.domain.timeline.DayCount;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Remark;
import indwell.domain.timeline.Stay;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardDayCount;
import indwell.domain.timeline.WardStay;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.MeasureReportMapper;
import indwell.fhir.map.ReportScope;
import indwell.fhir.map.Reporter;
import java.io.IOException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeSet;

/** What a story ends in, as the text of its golden files. */
final class StoryText {
  private static final Optional<Reporter> FACILITY =
      Optional.of(
          new Reporter(
              Optional.of("Example Hospital"),
              Optional.of(new BusinessId("https://hospital.example/facility", "F-1")),
              new Reporter.Contained()));

  private final Story story;
  private final Map<String, List<BedsideEvent>> patients;

  StoryText(Story story) throws IOException {
    this.story = story;
    this.patients = story.currentEvents();
  }

  /** Patient days and catheter days by ward and date. */
  private SortedMap<Ward, SortedMap<LocalDate, DayCount>> counts() {
    List<Timeline> timelines =
        patients.values().stream().map(events -> Timeline.asOf(events, Story.NOW)).toList();
    TreeSet<Ward> wards = new TreeSet<>();
    for (Timeline timeline : timelines) {
      timeline.wards().stream().filter(WardStay::inpatient).forEach(stay -> wards.add(stay.ward()));
    }
    WardDayCount count =
        new WardDayCount(
            story.calendar(), (ward, date) -> story.countTime(), wards, story.start(), story.end());
    timelines.forEach(count::add);
    return count.counts();
  }

  /** The same as the CSV of $device-days. */
  String deviceDays() {
    StringBuilder csv = new StringBuilder("date,ward,patient_days,catheter_days\r\n");
    counts()
        .forEach(
            (ward, days) ->
                days.forEach(
                    (date, day) ->
                        csv.append(
                            "%s,%s,%d,%d\r\n"
                                .formatted(
                                    date, ward.code(), day.patientDays(), day.catheterDays()))));
    return csv.toString();
  }

  /** The same as the reports of $device-days, of a facility that says who it is. */
  String reports() {
    StringBuilder lines = new StringBuilder();
    counts()
        .forEach(
            (ward, days) ->
                days.keySet().stream()
                    .map(YearMonth::from)
                    .distinct()
                    .forEach(month -> lines.append(report(ward, month, days)).append('\n')));
    return lines.toString();
  }

  private static String report(Ward ward, YearMonth month, SortedMap<LocalDate, DayCount> days) {
    SortedMap<LocalDate, DayCount> within =
        days.subMap(month.atDay(1), month.atEndOfMonth().plusDays(1));
    DayCount sum = within.values().stream().reduce(DayCount.NONE, DayCount::plus);
    ReportScope scope =
        new ReportScope(ward, Optional.empty(), within.firstKey(), within.lastKey());
    return FhirJson.encode(new MeasureReportMapper(FACILITY).summary(scope, sum, List.of()));
  }

  /** The eligibility count of each patient's latest stay, at the last moment asked about. */
  String catheterDays() {
    Instant asOf = story.asOf().get(story.asOf().size() - 1);
    List<String> lines = new ArrayList<>();
    patients.forEach(
        (patient, events) -> {
          Timeline timeline = Timeline.asOf(events, asOf);
          Stay stay = timeline.latestStayBegunBy(asOf).orElseThrow();
          lines.add(patient + ", stay " + stay.encounter().value() + ", as of " + local(asOf));
          lines.add("  date        day  catheter  eligible  ward");
          new EligibilityCount(timeline, story.calendar())
              .days(stay, asOf)
              .forEach(day -> lines.add(line(day)));
          timeline.remarks().forEach(remark -> lines.add(line(remark)));
          lines.add("");
        });
    return String.join("\n", lines);
  }

  /** The flags in force at each moment asked about. */
  String flags() {
    List<String> lines = new ArrayList<>();
    for (Instant asOf : story.asOf()) {
      lines.add("as of " + local(asOf));
      int before = lines.size();
      patients.forEach(
          (patient, events) -> {
            Bedside bedside =
                new Bedside(Timeline.asOf(events, asOf), RuleSettings.DEFAULTS, story.calendar());
            AllRules.inForce(bedside, asOf).forEach(flag -> lines.addAll(lines(patient, flag)));
          });
      if (lines.size() == before) {
        lines.add("  none");
      }
      lines.add("");
    }
    return String.join("\n", lines);
  }

  private static String line(CatheterDay day) {
    return "  %s  %3s  %-8s  %-8s  %s"
        .formatted(
            day.date(),
            day.number().map(number -> Integer.toString(number.value())).orElse("-"),
            day.catheterPresent() ? "yes" : "no",
            day.eligible() ? "yes" : "no",
            day.ward().map(Ward::code).orElse("-"));
  }

  private static String line(Remark remark) {
    return "  remark " + remark.code().code() + ": " + remark.sentence();
  }

  private List<String> lines(String patient, FlagSpan flag) {
    return List.of(
        "  %s %s %s since %s"
            .formatted(
                patient,
                flag.catheter().catheter().value(),
                flag.code().code(),
                local(flag.since())),
        "    " + flag.trace().rule().id() + ": " + flag.trace().finding());
  }

  private String local(Instant instant) {
    return story.calendar().local(instant).toString();
  }
}
