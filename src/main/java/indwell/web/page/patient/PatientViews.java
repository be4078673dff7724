package indwell.web.page.patient;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.EventKey;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.Ward;
import indwell.domain.rule.Attention;
import indwell.domain.rule.FlagHistory;
import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import indwell.domain.time.DayNumber;
import indwell.domain.timeline.CatheterDay;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.Stay;
import indwell.domain.timeline.WardStay;
import indwell.fhir.map.FlagMapper;
import indwell.fhir.map.ResourceId;
import indwell.fhir.term.EventIdentifier;
import indwell.usecase.PatientStory.Output;
import indwell.usecase.PatientStory.Story;
import indwell.web.page.EventWords;
import indwell.web.page.Histories;
import indwell.web.page.Moments;
import indwell.web.page.Whys;
import indwell.web.page.Words;
import indwell.web.page.patient.PatientView.Day;
import indwell.web.page.patient.PatientView.Event;
import indwell.web.page.patient.PatientView.Flag;
import indwell.web.page.patient.PatientView.Link;
import indwell.web.page.patient.PatientView.Remark;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/** Puts the story of a stay into words. */
final class PatientViews {
  private final Moments moments;
  private final Whys whys;
  private final Histories histories;

  PatientViews(Moments moments) {
    this.moments = moments;
    this.whys = new Whys(moments);
    this.histories = new Histories(moments);
  }

  PatientView view(Story story, String patientId, Instant now) {
    Optional<Instant> since =
        story.timeline().countedAt(now).stream()
            .map(Placement::start)
            .min(Comparator.naturalOrder());
    String described = described(story);
    UrineLimitWords limits = UrineLimitWords.of(story);
    return new PatientView(
        story.patient().value(),
        stays(story, patientId),
        story.timeline().wardAt(now).map(WardStay::ward).map(Ward::code).orElse(""),
        story.stay().map(Stay::start).map(moments::at).stream().toList(),
        story.stay().flatMap(Stay::end).map(moments::at).stream().toList(),
        since.map(moments::at).stream().toList(),
        since.map(at -> dayInPlace(at, now)).stream().toList(),
        new StayDrawing(story, moments).drawn(story.patient().value(), described),
        described,
        flags(story, now),
        days(story, now),
        limits.low(),
        limits.heading(),
        story.outputs().stream().map(one -> output(one, limits, now)).toList(),
        story.events().stream().map(this::event).toList(),
        story.corrections().stream().map(one -> histories.of(one, patientId, now)).toList(),
        story.timeline().remarks().stream().map(PatientViews::remark).toList(),
        links(patientId, now));
  }

  private static List<Link> links(String patientId, Instant now) {
    return List.of(
        new Link("its days", "/fhir/Patient/" + patientId + "/$catheter-days?asOf=" + now, false),
        new Link("its flags", "/fhir/Flag?patient=Patient/" + patientId, false),
        new Link("what events said", "/fhir/Provenance?patient=Patient/" + patientId, false));
  }

  private int dayInPlace(Instant since, Instant now) {
    return DayNumber.inPlace(since, now, moments.calendar()).value();
  }

  private List<Link> stays(Story story, String patientId) {
    List<Link> links = new ArrayList<>();
    int number = 0;
    for (Stay stay : story.stays()) {
      number++;
      links.add(
          new Link(
              "from " + moments.at(stay.start()).text(),
              "/patients/" + patientId + "?stay=" + number,
              story.stay().equals(Optional.of(stay))));
    }
    return links.size() > 1 ? links : List.of();
  }

  private static String described(Story story) {
    String wards =
        story.timeline().wards().stream()
            .map(ward -> ward.ward().code())
            .distinct()
            .collect(Collectors.joining(", then "));
    return "In "
        + (wards.isEmpty() ? "no ward" : wards)
        + "; catheters: "
        + story.placements().size()
        + "; measured intervals: "
        + story.outputs().size()
        + (story.outputs().isEmpty() ? "" : lowOnes(story))
        + "; flags: "
        + story.flags().size()
        + ". The tables below say the same.";
  }

  private static String lowOnes(Story story) {
    long low = story.outputs().stream().filter(Output::isLow).count();
    return ", of them " + UrineLimitWords.of(story).low() + ": " + low;
  }

  private List<Flag> flags(Story story, Instant now) {
    return story.flags().stream()
        .sorted(
            Comparator.comparing((FlagHistory flag) -> flag.end().isPresent())
                .thenComparing(flag -> Attention.of(flag.span().code()))
                .thenComparing(flag -> flag.span().since()))
        .map(flag -> flag(flag, now))
        .toList();
  }

  private Flag flag(FlagHistory flag, Instant now) {
    Instant since = flag.span().since();
    return new Flag(
        FlagMapper.id(flag.span()).id(),
        Attention.of(flag.span().code()).name().toLowerCase(Locale.ROOT),
        flag.span().code().display(),
        flag.span().catheter().catheter().value(),
        moments.at(since),
        flag.end().map(moments::at).stream().toList(),
        Moments.length(Duration.between(since, flag.end().orElse(now))),
        whys.of(flag.span().trace(), now));
  }

  private List<Day> days(Story story, Instant now) {
    List<Day> days = new ArrayList<>();
    for (int i = 0; i < story.days().size(); i++) {
      CatheterDay day = story.days().get(i);
      days.add(
          new Day(
              moments.date(day.date()),
              day.number().map(DayNumber::value).map(String::valueOf).orElse(""),
              day.catheterPresent(),
              day.eligible(),
              day.ward().map(Ward::code).orElse(""),
              story.traces().get(i).stream().map(trace -> whys.of(trace, now)).toList()));
    }
    return days;
  }

  private PatientView.Output output(Output output, UrineLimitWords limits, Instant now) {
    EventKey key = output.interval().key();
    return new PatientView.Output(
        moments.at(output.interval().from()),
        moments.at(output.interval().at()),
        output.interval().volumeMl().toPlainString(),
        output.weight().map(BodyWeight::kg).map(BigDecimal::toPlainString).orElse(""),
        output.rate().map(rate -> rate.stripTrailingZeros().toPlainString()).orElse(""),
        output.isLow(),
        output.rate().isEmpty() ? "" : limits.side(output),
        ResourceId.ofEvent("Observation", key, EventIdentifier.RATE).id(),
        output.weight().stream().map(weight -> whys.of(trace(output, weight), now)).toList());
  }

  private static Trace trace(Output output, BodyWeight weight) {
    Duration length = Duration.between(output.interval().from(), output.interval().at());
    String finding =
        output.interval().volumeMl().toPlainString()
            + " mL in "
            + length.toMinutes()
            + " min at "
            + weight.kg().toPlainString()
            + " kg. One interval makes no stage; the rule looks at whole windows.";
    return new Trace(RuleId.FLAG_LOW_OUTPUT, finding, List.of(output.interval(), weight));
  }

  private Event event(BedsideEvent event) {
    return new Event(
        moments.at(event.at()),
        Words.of(event.type()),
        EventWords.of(event),
        event.envelope().recorder().map(BusinessId::value).orElse(""),
        event.key().token(),
        event.envelope().version());
  }

  private static Remark remark(indwell.domain.timeline.Remark remark) {
    return new Remark(
        remark.code().code(),
        remark.sentence(),
        remark.events().stream().map(EventKey::token).collect(Collectors.joining(", ")));
  }
}
