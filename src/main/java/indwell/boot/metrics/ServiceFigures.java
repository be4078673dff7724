package indwell.boot.metrics;

import indwell.boot.traces.SpanCounts;
import indwell.boot.traces.Traces;
import indwell.domain.event.EventType;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.intake.Reading;
import indwell.usecase.Received;
import indwell.usecase.RecordingWatch;
import indwell.usecase.audit.KeepAudit;
import indwell.usecase.transaction.BundleWatch;
import indwell.web.edge.Traffic;
import indwell.web.edge.Traffic.Part;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.DistributionSummary;
import io.micrometer.core.instrument.FunctionCounter;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.Timer;
import io.micrometer.core.instrument.binder.jvm.JvmMemoryMetrics;
import io.micrometer.core.instrument.binder.jvm.JvmThreadMetrics;
import io.micrometer.core.instrument.binder.system.ProcessorMetrics;
import io.micrometer.core.instrument.binder.system.UptimeMetrics;
import java.time.Duration;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToLongFunction;

/** What this process has done since it began. No figure has a label that names a patient. */
public final class ServiceFigures implements RecordingWatch {
  private static final String UNREAD = "unread";

  private final Map<EventType, Map<Outcome, Counter>> events = new EnumMap<>(EventType.class);
  private final Map<Outcome, Counter> unreadEvents;
  private final Map<BundleWatch.Kind, Map<BundleWatch.Outcome, Counter>> bundles =
      new EnumMap<>(BundleWatch.Kind.class);
  private final Timer recording;
  private final DistributionSummary group;
  private final Timer validation;

  /** Counts into that registry. */
  public ServiceFigures(MeterRegistry registry) {
    for (EventType type : EventType.values()) {
      events.put(type, outcomes(registry, type.code()));
    }
    unreadEvents = outcomes(registry, UNREAD);
    for (BundleWatch.Kind kind : BundleWatch.Kind.values()) {
      bundles.put(kind, bundles(registry, kind));
    }
    recording =
        Timer.builder("indwell.recording")
            .description(
                "Time to record events that share a transaction, the store's part included")
            .serviceLevelObjectives(
                millis(1),
                millis(2),
                millis(5),
                millis(10),
                millis(20),
                millis(50),
                millis(100),
                millis(250),
                millis(1000),
                millis(5000))
            .register(registry);
    group =
        DistributionSummary.builder("indwell.recording.group.events")
            .description("Events that were recorded together")
            .serviceLevelObjectives(1, 2, 4, 8, 16, 32, 64)
            .register(registry);
    validation =
        Timer.builder("indwell.validation")
            .description("Time to validate a resource, of those that were not vouched for")
            .serviceLevelObjectives(
                Duration.ofNanos(500_000),
                millis(1),
                millis(2),
                millis(5),
                millis(10),
                millis(20),
                millis(50),
                millis(100),
                millis(500))
            .register(registry);
    new JvmMemoryMetrics().bindTo(registry);
    new JvmThreadMetrics().bindTo(registry);
    new ProcessorMetrics().bindTo(registry);
    new UptimeMetrics().bindTo(registry);
  }

  private static Duration millis(long millis) {
    return Duration.ofMillis(millis);
  }

  private static Map<Outcome, Counter> outcomes(MeterRegistry registry, String kind) {
    Map<Outcome, Counter> counters = new EnumMap<>(Outcome.class);
    for (Outcome outcome : Outcome.values()) {
      counters.put(
          outcome,
          Counter.builder("indwell.events")
              .description("Events that were answered, by their type and what became of them")
              .tag("kind", kind)
              .tag("outcome", outcome.code())
              .register(registry));
    }
    return counters;
  }

  private static Map<BundleWatch.Outcome, Counter> bundles(
      MeterRegistry registry, BundleWatch.Kind kind) {
    Map<BundleWatch.Outcome, Counter> counters = new EnumMap<>(BundleWatch.Outcome.class);
    for (BundleWatch.Outcome outcome : BundleWatch.Outcome.values()) {
      counters.put(
          outcome,
          Counter.builder("indwell.bundles")
              .description("Bundles that were answered, by their type and what became of them")
              .tag("type", kind.name().toLowerCase(Locale.ROOT))
              .tag("outcome", outcome.name().toLowerCase(Locale.ROOT))
              .register(registry));
    }
    return counters;
  }

  /** A Bundle was answered. */
  public void bundle(BundleWatch.Kind kind, BundleWatch.Outcome outcome) {
    Optional.ofNullable(bundles.get(kind))
        .map(outcomes -> outcomes.get(outcome))
        .ifPresent(Counter::increment);
  }

  @Override
  public void recorded(List<Received> received, List<EventResult> results, Duration took) {
    recording.record(took);
    group.record(results.size());
    for (int i = 0; i < results.size(); i++) {
      count(received.get(i), results.get(i).outcome());
    }
  }

  private void count(Received received, Outcome outcome) {
    Map<Outcome, Counter> counters =
        received.reading() instanceof Reading.Accepted accepted
            ? events.getOrDefault(accepted.version().type(), unreadEvents)
            : unreadEvents;
    Optional.ofNullable(counters.get(outcome)).ifPresent(Counter::increment);
  }

  /** A resource was validated. */
  void validated(Duration took) {
    validation.record(took);
  }

  /** Shows what was vouched for instead of being validated. */
  public static <T> void vouched(MeterRegistry registry, T shapes, ToLongFunction<T> count) {
    FunctionCounter.builder("indwell.validation.vouched", shapes, count::applyAsLong)
        .description("Resources not validated again, since another of their shape had no fault")
        .register(registry);
  }

  /**
   * Shows how the audit trail gets on.
   *
   * @param written rows that are durable, of everything
   */
  public static <T> void audit(
      MeterRegistry registry, KeepAudit trail, T store, ToLongFunction<T> written) {
    FunctionCounter.builder("indwell.audit.rows", store, written::applyAsLong)
        .description("Rows of the audit trail that are durable")
        .register(registry);
    Gauge.builder("indwell.audit.waiting", trail, KeepAudit::rowsWaiting)
        .description("Rows of the audit trail that were not written yet")
        .register(registry);
    FunctionCounter.builder("indwell.audit.failed", trail, KeepAudit::failed)
        .description("Rows of the audit trail that could not be written, each time counted")
        .register(registry);
    FunctionCounter.builder("indwell.audit.withheld", trail, KeepAudit::withheld)
        .description("Answers that were withheld since their rows could not be written")
        .register(registry);
  }

  /** Shows what became of the spans of requests. */
  public static void spans(MeterRegistry registry, Traces traces) {
    spans(registry, traces, "taken", SpanCounts::taken);
    spans(registry, traces, "failed", SpanCounts::failed);
    spans(registry, traces, "dropped", SpanCounts::dropped);
  }

  private static void spans(
      MeterRegistry registry, Traces traces, String outcome, ToLongFunction<SpanCounts> count) {
    FunctionCounter.builder("indwell.traces.spans", traces, all -> count.applyAsLong(all.counts()))
        .description("Spans that have ended, by what became of them")
        .tag("outcome", outcome)
        .register(registry);
  }

  /** Shows what goes over the connections. */
  public static void traffic(MeterRegistry registry, Traffic traffic) {
    Gauge.builder("indwell.http.under.way", traffic, Traffic::underWay)
        .description("Requests whose answer has not been sent whole")
        .register(registry);
    for (Part part : Part.values()) {
      for (int hundred = 2; hundred <= 5; hundred++) {
        int status = hundred;
        FunctionCounter.builder("indwell.http.answers", traffic, all -> all.answered(part, status))
            .description("Answers, by the part of the service and the hundred of their status")
            .tag("part", part.name().toLowerCase(Locale.ROOT))
            .tag("status", hundred + "xx")
            .register(registry);
      }
    }
    givenUp(registry, traffic, "head", Traffic::slowHeads);
    givenUp(registry, traffic, "body", Traffic::slowBodies);
    givenUp(registry, traffic, "answer", Traffic::slowAnswers);
  }

  private static void givenUp(
      MeterRegistry registry, Traffic traffic, String what, ToLongFunction<Traffic> count) {
    FunctionCounter.builder("indwell.http.given.up", traffic, count::applyAsLong)
        .description("Requests that took too long, by what was late")
        .tag("late", what)
        .register(registry);
  }
}
