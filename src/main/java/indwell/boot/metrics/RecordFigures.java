package indwell.boot.metrics;

import indwell.usecase.Overdue;
import indwell.usecase.export.Exports;
import indwell.usecase.publish.Publishing;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.MultiGauge;
import io.micrometer.core.instrument.Tags;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Executor;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;

/**
 * What the record and the queues hold. It is asked of the store beside the answers, once in a while
 * and only when somebody looks: whoever looks is given what was found last, and its age.
 */
public final class RecordFigures {
  /** Wards with a label of their own, those with the most flags; the others share one. */
  static final int MOST_WARDS = 100;

  private static final String OTHER = "(other)";
  private static final String NONE = "(none)";
  private static final Logger LOG = System.getLogger(RecordFigures.class.getName());

  private final Overdue overdue;
  private final Publishing publishing;
  private final Exports exports;
  private final Clock clock;
  private final Duration every;
  private final Executor beside;
  private final MultiGauge flags;
  private final AtomicBoolean asking = new AtomicBoolean();
  private volatile Optional<Found> last = Optional.empty();

  private record Found(Instant at, Publishing.Status publishing, long exports) {}

  private record Label(String ward, String code) {}

  /**
   * @param every how old what was found may become before the store is asked again
   * @param beside runs what asks the store
   */
  public RecordFigures(
      MeterRegistry registry,
      Overdue overdue,
      Publishing publishing,
      Exports exports,
      Clock clock,
      Duration every,
      Executor beside) {
    this.overdue = overdue;
    this.publishing = publishing;
    this.exports = exports;
    this.clock = clock;
    this.every = every;
    this.beside = beside;
    this.flags =
        MultiGauge.builder("indwell.overdue.flags")
            .description("Flags in force, by ward and code")
            .register(registry);
    gauge(registry, "publishing.waiting", "Resources to be sent", f -> f.backlog().waiting());
    gauge(registry, "publishing.unread", "Changes not looked at", f -> f.backlog().unread());
    gauge(registry, "publishing.parked", "Lanes that wait for a person", Publishing.Status::parked);
    gauge(registry, "publishing.lag.seconds", "Age of the oldest change that waits", this::lag);
    Gauge.builder("indwell.exports.unfinished", () -> of(Found::exports))
        .description("Exports that wait or run")
        .register(registry);
    Gauge.builder("indwell.record.figures.age.seconds", () -> of(this::age))
        .description("How old the figures are that are asked of the store")
        .register(registry);
  }

  private void gauge(
      MeterRegistry registry,
      String name,
      String description,
      ToDoubleFunction<Publishing.Status> value) {
    Gauge.builder("indwell." + name, () -> of(found -> value.applyAsDouble(found.publishing())))
        .description(description)
        .register(registry);
  }

  private double of(ToDoubleFunction<Found> value) {
    return last.map(value::applyAsDouble).orElse(Double.NaN);
  }

  private double age(Found found) {
    return Duration.between(found.at(), clock.instant()).toMillis() / 1000.0;
  }

  private double lag(Publishing.Status status) {
    return status
        .backlog()
        .oldest()
        .map(oldest -> Duration.between(oldest, status.at()).toMillis() / 1000.0)
        .orElse(0.0);
  }

  /** Has the store asked again, beside, if what was found last is old; returns at once. */
  public void look() {
    Instant now = clock.instant();
    boolean fresh = last.filter(found -> found.at().plus(every).isAfter(now)).isPresent();
    if (!fresh && asking.compareAndSet(false, true)) {
      try {
        beside.execute(this::ask);
      } catch (RejectedExecutionException stopping) {
        asking.set(false);
      }
    }
  }

  private void ask() {
    try {
      Instant now = clock.instant();
      overdue
          .at(now, Optional.empty(), now)
          .fold(Optional::of, refused -> Optional.<Overdue.Flags>empty())
          .ifPresent(found -> flags.register(rows(found.raised()), true));
      last = Optional.of(new Found(now, publishing.status(), exports.unfinished()));
    } catch (RuntimeException away) {
      // The figures grow old, which is one of them.
      LOG.log(Level.DEBUG, "The store could not be asked for figures.");
    } finally {
      asking.set(false);
    }
  }

  private static Iterable<MultiGauge.Row<?>> rows(List<Overdue.Raised> raised) {
    Map<String, Long> wards =
        raised.stream().collect(Collectors.groupingBy(RecordFigures::ward, Collectors.counting()));
    List<String> named = named(wards);
    return raised.stream()
        .collect(Collectors.groupingBy(one -> label(one, named), Collectors.counting()))
        .entrySet()
        .stream()
        .<MultiGauge.Row<?>>map(
            one ->
                MultiGauge.Row.of(
                    Tags.of("ward", one.getKey().ward(), "code", one.getKey().code()),
                    one.getValue()))
        .toList();
  }

  /** The wards with a label of their own, by how many flags each has. */
  static List<String> named(Map<String, Long> flags) {
    return flags.entrySet().stream()
        .sorted(
            Comparator.comparing((Map.Entry<String, Long> one) -> -one.getValue())
                .thenComparing(Map.Entry::getKey))
        .limit(MOST_WARDS)
        .map(Map.Entry::getKey)
        .toList();
  }

  private static Label label(Overdue.Raised raised, List<String> named) {
    String ward = ward(raised);
    return new Label(named.contains(ward) ? ward : OTHER, raised.flag().code().code());
  }

  private static String ward(Overdue.Raised raised) {
    return raised.ward().map(one -> one.code()).orElse(NONE);
  }
}
