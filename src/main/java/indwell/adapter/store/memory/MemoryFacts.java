package indwell.adapter.store.memory;

import indwell.domain.surveillance.WardMonth;
import indwell.port.AuditEntry;
import indwell.port.StoredFacts;
import indwell.port.SurveillanceFacts;
import java.time.Instant;
import java.time.YearMonth;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.function.Function;

/** Keeps facts in memory and nothing longer than the process; one call at a time. */
public final class MemoryFacts implements SurveillanceFacts {
  private final Consumer<List<AuditEntry>> audit;

  /** Newest first. */
  private final SortedMap<WardMonth, List<StoredFacts>> versions = new TreeMap<>();

  /** Facts whose rows nobody reads. */
  public MemoryFacts() {
    this(rows -> {});
  }

  /** Facts whose rows go there. */
  public MemoryFacts(Consumer<List<AuditEntry>> audit) {
    this.audit = audit;
  }

  @Override
  public synchronized List<Recorded> record(
      List<Stated> stated, Instant now, Function<List<Recorded>, List<AuditEntry>> rows) {
    List<Recorded> all = new ArrayList<>();
    for (Stated one : stated) {
      all.add(outcome(one, now));
    }
    if (SurveillanceFacts.wrote(all)) {
      all.forEach(this::keep);
      audit.accept(rows.apply(all));
    }
    return all;
  }

  private Recorded outcome(Stated stated, Instant now) {
    Optional<StoredFacts> newest = newest(stated.month());
    int version = newest.map(StoredFacts::version).orElse(0);
    if (stated.ifVersion().isPresent() && stated.ifVersion().getAsInt() != version) {
      return new Recorded(Change.STALE, newest);
    }
    if (newest.filter(one -> one.canonical().equals(stated.canonical())).isPresent()) {
      return new Recorded(Change.UNCHANGED, newest);
    }
    StoredFacts next =
        new StoredFacts(
            stated.month(), version + 1, now.truncatedTo(ChronoUnit.MILLIS), stated.canonical());
    return new Recorded(version == 0 ? Change.CREATED : Change.CHANGED, Optional.of(next));
  }

  private void keep(Recorded recorded) {
    if (recorded.change() != Change.UNCHANGED) {
      StoredFacts facts = recorded.newest().orElseThrow();
      versions.computeIfAbsent(facts.month(), month -> new ArrayList<>()).add(0, facts);
    }
  }

  @Override
  public synchronized Optional<StoredFacts> newest(WardMonth month) {
    return versions(month).stream().findFirst();
  }

  @Override
  public synchronized List<StoredFacts> versions(WardMonth month) {
    return List.copyOf(versions.getOrDefault(month, List.of()));
  }

  @Override
  public synchronized SortedMap<WardMonth, StoredFacts> newest(
      YearMonth start, YearMonth endInclusive) {
    SortedMap<WardMonth, StoredFacts> found = new TreeMap<>();
    versions.forEach(
        (month, all) -> {
          if (!month.month().isBefore(start) && !month.month().isAfter(endInclusive)) {
            found.put(month, all.get(0));
          }
        });
    return found;
  }
}
