package indwell.domain.timeline;

import indwell.domain.time.FacilityCalendar;
import indwell.domain.time.Span;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/** Everything that a timeline says, as text in the facility's local time. */
final class WholeTimeline {
  private final FacilityCalendar calendar;

  private WholeTimeline(FacilityCalendar calendar) {
    this.calendar = calendar;
  }

  static String text(Timeline timeline, FacilityCalendar calendar) {
    WholeTimeline writer = new WholeTimeline(calendar);
    List<String> lines = new ArrayList<>();
    timeline.stays().forEach(stay -> lines.add(writer.line(stay)));
    timeline.placements().forEach(placement -> lines.add(writer.line(placement)));
    timeline
        .remarks()
        .forEach(one -> lines.add("! " + one.code().code() + " " + one.events().get(0).eventId()));
    return String.join("\n", lines);
  }

  private String line(Stay stay) {
    return stay.encounter().value()
        + " "
        + span(stay.span())
        + ": "
        + stay.wards().stream()
            .map(ward -> ward.ward().code() + " " + span(ward.span()))
            .collect(Collectors.joining(", "));
  }

  private String line(Placement placement) {
    String rests =
        placement.rests().stream()
            .map(rest -> " resting " + span(rest))
            .collect(Collectors.joining());
    String facts = placement.facts().isEmpty() ? "" : " with " + placement.facts().size() + " fact";
    return placement.catheter().value()
        + " "
        + span(placement.span())
        + placement.end().map(WholeTimeline::text).orElse("")
        + facts
        + rests;
  }

  private static String text(PlacementEnd end) {
    return " "
        + end.how()
        + end.ward().map(ward -> " in " + ward.code()).orElse("")
        + end.recordedLater().map(by -> " recorded by " + by.key().eventId()).orElse("");
  }

  private String span(Span span) {
    return time(Optional.of(span.start())) + " to " + time(span.end());
  }

  private String time(Optional<Instant> instant) {
    return instant
        .map(one -> calendar.local(one).toLocalDateTime().toString().substring(5).replace('T', ' '))
        .orElse("-");
  }
}
