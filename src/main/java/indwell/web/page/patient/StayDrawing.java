package indwell.web.page.patient;

import indwell.domain.event.CatheterEvent;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.domain.event.Placing;
import indwell.domain.rule.FlagCode;
import indwell.domain.rule.FlagHistory;
import indwell.domain.rule.UrineLimit;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.time.Span;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.WardStay;
import indwell.usecase.PatientStory.Output;
import indwell.usecase.PatientStory.Story;
import indwell.web.page.Moments;
import indwell.web.page.Words;
import indwell.web.page.svg.Scale;
import indwell.web.page.svg.Svg;
import indwell.web.page.svg.Ticks;
import io.quarkus.qute.RawString;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Draws a stay over time: wards, catheters, what was done to them, urine output against the limit
 * below which it is low, and the flags that were in force. One lane below the other.
 */
final class StayDrawing {
  private static final double WIDTH = 1000;
  private static final double LEFT = 218;
  private static final double RIGHT = 990;
  private static final double TOP = 26;
  private static final double LANE = 24;
  private static final double OUTPUT_HEIGHT = 110;
  private static final double ROOM_FOR_VALUES = 30;
  private static final double ROOM_FOR_DATE = 44;
  private static final int MOST_LABELS = 12;
  private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMM", Locale.ENGLISH);

  private final Story story;
  private final Moments moments;
  private final Scale time;
  private final List<Lane> lanes = new ArrayList<>();

  /** A lane: its name, its height, and what is drawn into it from its upper edge on. */
  private record Lane(String name, double height, Painter painter) {}

  private interface Painter {
    void paint(Svg svg, double top, double bottom);
  }

  StayDrawing(Story story, Moments moments) {
    this.story = story;
    this.moments = moments;
    Instant from = story.from();
    Instant to = story.to().isAfter(from) ? story.to() : from.plus(Duration.ofHours(1));
    this.time = new Scale(seconds(from), seconds(to), LEFT, RIGHT);
    addLanes();
  }

  private static double seconds(Instant at) {
    return at.toEpochMilli() / 1000.0;
  }

  private double x(Instant at) {
    return time.at(seconds(at));
  }

  private void addLanes() {
    lanes.add(new Lane("Ward", LANE, this::wards));
    for (Placement catheter : story.placements()) {
      lanes.add(
          new Lane(
              catheter.catheter().value(),
              LANE,
              (svg, top, bottom) -> catheter(svg, catheter, top, bottom)));
    }
    lanes.add(new Lane("Reviews of need", LANE, this::reviews));
    lanes.add(
        new Lane(
            "Securement",
            LANE,
            (svg, top, bottom) -> marks(svg, SecurementChange.class, "securement", top)));
    lanes.add(
        new Lane(
            "Care checks", LANE, (svg, top, bottom) -> marks(svg, CareCheck.class, "check", top)));
    if (!story.outputs().isEmpty()) {
      lanes.add(new Lane("Urine, mL/kg/h", OUTPUT_HEIGHT, this::output));
    }
    for (FlagCode code : FlagCode.values()) {
      List<FlagHistory> flags =
          story.flags().stream().filter(flag -> flag.span().code() == code).toList();
      if (!flags.isEmpty()) {
        lanes.add(
            new Lane(code.display(), LANE, (svg, top, bottom) -> flags(svg, flags, top, bottom)));
      }
    }
  }

  /** The drawing. */
  RawString drawn(String patient, String described) {
    double height = TOP + lanes.stream().mapToDouble(Lane::height).sum() + 8;
    Svg svg = new Svg("stay", WIDTH, height, "The stay of " + patient + " over time", described);
    days(svg, height);
    double top = TOP;
    for (Lane lane : lanes) {
      double bottom = top + lane.height();
      svg.line(0, bottom, RIGHT, bottom, "rule");
      double beside = lane.height() > LANE ? ROOM_FOR_VALUES : 0;
      svg.word(LEFT - 8 - beside, top + LANE - 7, "lane end", lane.name());
      lane.painter().paint(svg, top, bottom);
      top = bottom;
    }
    return svg.drawn();
  }

  private void days(Svg svg, double height) {
    FacilityCalendar calendar = moments.calendar();
    LocalDate first = calendar.dateOf(story.from());
    LocalDate last = calendar.dateOf(story.to());
    long days = ChronoUnit.DAYS.between(first, last) + 1;
    long step = Math.max(1, (days + MOST_LABELS - 1) / MOST_LABELS);
    long number = 0;
    for (LocalDate date = first; !date.isAfter(last); date = date.plusDays(1)) {
      Instant start = calendar.startOf(date);
      if (start.isAfter(story.from())) {
        svg.line(x(start), TOP - 4, x(start), height - 4, "day");
      }
      Instant next = calendar.startOf(date.plusDays(1));
      if (number % step == 0 && (step > 1 || x(next) - x(start) > ROOM_FOR_DATE)) {
        svg.word(x(start) + 3, TOP - 9, "label", DAY.format(date));
      }
      number++;
    }
  }

  private String told(Instant at) {
    return moments.at(at).text();
  }

  private String told(Span span) {
    return told(span.start()) + " to " + span.end().map(this::told).orElse("now");
  }

  private boolean shown(Span span) {
    return !span.start().isAfter(story.to())
        && span.end().filter(end -> end.isBefore(story.from())).isEmpty();
  }

  private void bar(Svg svg, Span span, double top, double bottom, String style, String hover) {
    if (shown(span)) {
      svg.bar(x(span.start()), top, x(span.end().orElse(story.to())), bottom, style, hover);
    }
  }

  private void wards(Svg svg, double top, double bottom) {
    for (WardStay ward : story.timeline().wards()) {
      if (shown(ward.span()) && !ward.span().isEmpty()) {
        String kind = ward.inpatient() ? "" : ", not inpatient";
        bar(
            svg,
            ward.span(),
            top + 3,
            bottom - 3,
            ward.inpatient() ? "ward" : "ward outpatient",
            ward.ward().code() + kind + ", " + told(ward.span()));
        svg.word(x(ward.span().start()) + 4, bottom - 7, "in-bar", ward.ward().code());
      }
    }
  }

  private void catheter(Svg svg, Placement catheter, double top, double bottom) {
    Placing placing = catheter.placing();
    for (Span span : catheter.timesInPlace()) {
      bar(
          svg,
          span,
          top + 5,
          bottom - 5,
          "tube",
          catheter.catheter().value() + ", " + Words.of(placing) + ", " + told(span));
    }
    svg.word(x(catheter.start()) + 4, bottom - 8, "in-bar", placing.product().sizeCh() + " Ch");
  }

  private <T extends CatheterEvent> Stream<T> facts(Class<T> kind) {
    return story.placements().stream()
        .flatMap(catheter -> catheter.facts(kind).stream())
        .filter(fact -> !fact.at().isBefore(story.from()) && !fact.at().isAfter(story.to()));
  }

  private void reviews(Svg svg, double top, double bottom) {
    double middle = (top + bottom) / 2;
    facts(NeedReview.class)
        .forEach(
            review -> {
              String answer = review.stillNeeded() ? "still needed" : "no longer needed";
              String hover = "Review of need, " + told(review.at()) + ": " + answer;
              if (review.stillNeeded()) {
                svg.dot(x(review.at()), middle, 4.5, "needed", hover);
              } else {
                svg.diamond(x(review.at()), middle, 6.5, "not-needed", hover);
              }
            });
  }

  private void marks(Svg svg, Class<? extends CatheterEvent> kind, String style, double top) {
    facts(kind)
        .forEach(
            fact ->
                svg.bar(
                    x(fact.at()) - 1.5,
                    top + 5,
                    x(fact.at()) + 1.5,
                    top + LANE - 5,
                    style,
                    Words.of(fact.type()) + ", " + told(fact.at())));
  }

  private void output(Svg svg, double top, double bottom) {
    double highest =
        story.outputs().stream()
            .flatMap(one -> one.rate().stream())
            .mapToDouble(BigDecimal::doubleValue)
            .max()
            .orElse(1);
    List<BigDecimal> ticks = Ticks.upTo(Math.max(1, highest));
    Scale up = new Scale(0, ticks.get(ticks.size() - 1).doubleValue(), bottom - 2, top + 10);
    for (BigDecimal tick : ticks) {
      double y = up.at(tick.doubleValue());
      svg.line(LEFT, y, RIGHT, y, "grid");
      svg.word(LEFT - 8, y + 4, "label end", Ticks.label(tick));
    }
    story.outputs().forEach(output -> output(svg, output, up));
    if (story.outputs().stream().allMatch(one -> one.rate().isEmpty())) {
      svg.word(LEFT + 8, up.at(0) - 8, "label", "No weight on record, so no rate is known.");
    }
    limits(svg, up);
  }

  /** A line through the whole stay, or through the intervals of each reading if there are more. */
  private void limits(Svg svg, Scale up) {
    List<Output> outputs = story.outputs();
    if (outputs.stream().map(Output::limit).distinct().count() == 1) {
      limit(svg, outputs.get(0).limit(), LEFT, RIGHT, up);
      return;
    }
    for (int from = 0, to = 1; from < outputs.size(); from = to, to++) {
      UrineLimit limit = outputs.get(from).limit();
      while (to < outputs.size() && outputs.get(to).limit().equals(limit)) {
        to++;
      }
      double left = x(outputs.get(from).interval().from());
      limit(svg, limit, left, x(outputs.get(to - 1).interval().at()), up);
    }
  }

  private static void limit(Svg svg, UrineLimit limit, double left, double right, Scale up) {
    double y = up.at(limit.rate().doubleValue());
    svg.line(left, y, right, y, "limit");
    svg.word(right, y - 4, "limit-word end", UrineLimitWords.number(limit));
  }

  private void output(Svg svg, Output output, Scale up) {
    Optional<BigDecimal> rate = output.rate();
    if (rate.isEmpty()) {
      return;
    }
    svg.bar(
        x(output.interval().from()) + .5,
        up.at(rate.get().doubleValue()),
        x(output.interval().at()) - .5,
        up.at(0),
        output.isLow() ? "output low" : "output",
        output.interval().volumeMl().toPlainString()
            + " mL, "
            + rate.get().stripTrailingZeros().toPlainString()
            + " mL/kg/h, "
            + told(Span.between(output.interval().from(), output.interval().at())));
  }

  private void flags(Svg svg, List<FlagHistory> flags, double top, double bottom) {
    for (FlagHistory flag : flags) {
      for (Span span : flag.times()) {
        bar(
            svg,
            span,
            top + 6,
            bottom - 6,
            "flag",
            flag.span().code().display()
                + ", catheter "
                + flag.span().catheter().catheter().value()
                + ", "
                + told(span));
      }
    }
  }
}
