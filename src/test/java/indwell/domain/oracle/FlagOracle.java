package indwell.domain.oracle;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.Drainage;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.event.Placing;
import indwell.domain.event.Route;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.function.Predicate;

/** The twelve flags at one instant with the default limits, naively; see {@link BedsideOracle}. */
final class FlagOracle extends BedsideOracle {

  private final Instant asOf;
  private final TreeSet<String> flags = new TreeSet<>();

  FlagOracle(List<BedsideEvent> all, ZoneId zone, Instant asOf) {
    super(all, zone, asOf);
    this.asOf = asOf;
  }

  /** {@code code catheter since}, sorted. */
  TreeSet<String> flags() {
    for (String id : catheterIds()) {
      held(id, events.size()).filter(held -> !held.resting()).ifPresent(held -> ask(id, held.by()));
      removalNotRecorded(id).ifPresent(since -> raise("removal-not-recorded", id, since));
    }
    return flags;
  }

  private void raise(String code, String id, Instant since) {
    flags.add(code + " " + id + " " + since);
  }

  private void raiseFrom(String code, String id, Instant since) {
    if (!asOf.isBefore(since)) {
      raise(code, id, since);
    }
  }

  private void raiseAfter(String code, String id, Instant since) {
    if (asOf.isAfter(since)) {
      raise(code, id, since);
    }
  }

  private void ask(String id, int by) {
    Placing placing = placing(by).orElseThrow();
    Instant in = at(by);
    LocalDate dayIn = date(in);
    Instant reviewed = latest(in, own(id, by, "need-reviewed"));
    raiseFrom(
        "need-review-overdue",
        id,
        DayOracle.clock(date(reviewed).plusDays(1), LocalTime.NOON, zone));
    Instant applied = latest(in, own(id, by, "securement-changed"));
    raiseFrom("securement-change-overdue", id, startOf(date(applied).plusDays(8)));
    Instant checked = latest(in, own(id, by, "care-checked"));
    raiseAfter("care-check-overdue", id, checked.plus(Duration.ofHours(12)));
    if (placing.drainage() == Drainage.BAG) {
      Instant measured = latest(in, urine());
      raiseAfter("output-charting-overdue", id, measured.plus(Duration.ofHours(8)));
      lowOutput().ifPresent(since -> raise("low-urine-output", id, later(since, in)));
    }
    postoperative(id, by, placing);
    if (placing.product().maxDwellDays().isPresent()) {
      int limit = placing.product().maxDwellDays().getAsInt();
      raiseFrom("dwell-limit-exceeded", id, startOf(dayIn.plusDays(limit)));
    }
    mismatch(placing).filter(yes -> yes).ifPresent(yes -> raise("balloon-fill-mismatch", id, in));
    since(id, by, this::notAccepted).ifPresent(since -> raise("no-accepted-indication", id, since));
    if (placing.steps().values().stream().anyMatch(result -> result.code().equals("not-done"))) {
      raise("insertion-steps-missing", id, in);
    }
    overlap(id, placing).ifPresent(since -> raise("overlapping-catheters", id, since));
  }

  private void postoperative(String id, int by, Placing placing) {
    Instant surgery = later(placing.surgeryEndedAt().orElse(at(by)), at(by));
    Instant due = surgery.plus(Duration.ofHours(24));
    Optional<Instant> stated =
        since(id, by, said -> latestIndication(said).equals("perioperative"));
    if (stated.isPresent() && stated.get().isAfter(due)) {
      raise("postoperative-removal-overdue", id, stated.get());
    } else if (stated.isPresent()) {
      raiseAfter("postoperative-removal-overdue", id, due);
    }
  }

  private static Optional<Boolean> mismatch(Placing placing) {
    Optional<BigDecimal> label = placing.product().balloonLabelMl();
    return placing
        .findings()
        .balloonFilledMl()
        .flatMap(
            filled -> label.map(says -> Math.abs(filled.doubleValue() - says.doubleValue()) > 0.5));
  }

  // What was said of the indication.

  /** The insertion and the reviews of that placement up to an instant, in order. */
  private List<BedsideEvent> said(String id, int by, Instant until) {
    List<BedsideEvent> said = new ArrayList<>(List.of(events.get(by)));
    own(id, by, "need-reviewed").stream()
        .filter(review -> !review.at().isAfter(until))
        .forEach(said::add);
    return said;
  }

  private static String latestIndication(List<BedsideEvent> said) {
    String latest = "";
    for (BedsideEvent one : said) {
      if (one instanceof CatheterEvent.Insertion insertion) {
        latest = insertion.placing().indication().code().code();
      } else if (one instanceof CatheterEvent.Exchange exchange) {
        latest = exchange.replacement().indication().code().code();
      } else if (((CatheterEvent.NeedReview) one).indication().isPresent()) {
        latest = ((CatheterEvent.NeedReview) one).indication().get().code().code();
      }
    }
    return latest;
  }

  private boolean notAccepted(List<BedsideEvent> said) {
    String latest = latestIndication(said);
    boolean inappropriate = latest.equals("incontinence-care") || latest.equals("urine-sampling");
    return inappropriate
        || said.get(said.size() - 1) instanceof CatheterEvent.NeedReview review
            && !review.stillNeeded();
  }

  /** Since which statement it has been so without a break; empty when it is not so now. */
  private Optional<Instant> since(String id, int by, Predicate<List<BedsideEvent>> holds) {
    TreeSet<Instant> instants = new TreeSet<>();
    said(id, by, asOf).forEach(one -> instants.add(one.at()));
    Optional<Instant> since = Optional.empty();
    for (Instant instant : instants.descendingSet()) {
      if (!holds.test(said(id, by, instant))) {
        return since;
      }
      since = Optional.of(instant);
    }
    return since;
  }

  // Urine.

  private List<BedsideEvent> urine() {
    return events.stream().filter(UrineOutput.class::isInstance).toList();
  }

  /** Since when output has been low at the end of every interval, the last one included. */
  private Optional<Instant> lowOutput() {
    TreeSet<Instant> ends = new TreeSet<>();
    urine().forEach(one -> ends.add(one.at()));
    Optional<Instant> since = Optional.empty();
    for (Instant end : ends.descendingSet()) {
      if (!low(end)) {
        return since;
      }
      since = Optional.of(end);
    }
    return since;
  }

  private boolean low(Instant end) {
    Optional<BigDecimal> kg = Optional.empty();
    for (BedsideEvent event : events) {
      if (event instanceof BodyWeight weight && !weight.at().isAfter(end)) {
        kg = Optional.of(weight.kg());
      }
    }
    return kg.isPresent()
        && (below(end, 6, kg.get(), 5)
            || below(end, 12, kg.get(), 5)
            || below(end, 24, kg.get(), 3)
            || below(end, 12, kg.get(), 0));
  }

  /** Quarter by quarter; all interval lengths divide a day, so the sum stays whole. */
  private boolean below(Instant end, int hours, BigDecimal kg, int tenths) {
    long dayQuarters = 24 * 4;
    BigDecimal volume = BigDecimal.ZERO;
    for (int quarter = 0; quarter < hours * 4; quarter++) {
      Instant from = end.minusSeconds((quarter + 1) * 900L);
      boolean covered = false;
      for (BedsideEvent event : urine()) {
        UrineOutput one = (UrineOutput) event;
        if (!one.at().isAfter(end) && !one.from().isAfter(from) && one.at().isAfter(from)) {
          covered = true;
          long quarters = Duration.between(one.from(), one.at()).toMinutes() / 15;
          volume = volume.add(one.volumeMl().multiply(BigDecimal.valueOf(dayQuarters / quarters)));
        }
      }
      if (!covered) {
        return false;
      }
    }
    BigDecimal limit =
        kg.multiply(BigDecimal.valueOf(hours * dayQuarters))
            .multiply(BigDecimal.valueOf(tenths))
            .movePointLeft(1);
    return tenths == 0 ? volume.signum() == 0 : volume.compareTo(limit) < 0;
  }

  // Between catheters, and after them.

  private Optional<Instant> overlap(String id, Placing placing) {
    TreeSet<Instant> since = new TreeSet<>();
    for (String other : catheterIds()) {
      Optional<Held> held = held(other, events.size()).filter(one -> !one.resting());
      if (!other.equals(id)
          && held.isPresent()
          && placing.route() == Route.URETHRAL
          && placing(held.get().by()).orElseThrow().route() == Route.URETHRAL) {
        since.add(firstTogether(id, other));
      }
    }
    return since.stream().findFirst();
  }

  /** The first instant at which both of those in place now were in place. */
  private Instant firstTogether(String id, String other) {
    int mine = held(id, events.size()).orElseThrow().by();
    int its = held(other, events.size()).orElseThrow().by();
    for (BedsideEvent event : events) {
      int after = countBy(event.at());
      boolean both =
          held(id, after).equals(Optional.of(new Held(mine, false)))
              && held(other, after).equals(Optional.of(new Held(its, false)));
      if (both) {
        return event.at();
      }
    }
    throw new AssertionError("both are in place now");
  }

  private Optional<Instant> removalNotRecorded(String id) {
    for (int i = 0; i < events.size(); i++) {
      if (leaves(i) && !withCatheter(events.get(i)) && in(id, i)) {
        boolean recorded =
            events.subList(i + 1, events.size()).stream().anyMatch(one -> takesOut(one, id));
        if (!recorded) {
          return Optional.of(at(i));
        }
      }
    }
    return Optional.empty();
  }

  // Small things.

  private List<BedsideEvent> own(String id, int by, String type) {
    return events.subList(by + 1, events.size()).stream()
        .filter(event -> event.type().code().equals(type))
        .filter(event -> ((CatheterEvent) event).catheter().value().equals(id))
        .toList();
  }

  private static Instant latest(Instant insertion, List<BedsideEvent> facts) {
    Instant latest = insertion;
    for (BedsideEvent fact : facts) {
      latest = later(latest, fact.at());
    }
    return latest;
  }

  private static Instant later(Instant one, Instant other) {
    return one.isAfter(other) ? one : other;
  }

  private LocalDate date(Instant instant) {
    return instant.atZone(zone).toLocalDate();
  }

  private Instant startOf(LocalDate date) {
    return date.atStartOfDay(zone).toInstant();
  }
}
