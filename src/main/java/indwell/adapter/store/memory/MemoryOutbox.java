package indwell.adapter.store.memory;

import indwell.port.AuditEntry;
import indwell.port.Backlog;
import indwell.port.LaneHold;
import indwell.port.Outbox;
import indwell.port.Publication;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The outbox by looking at everything; the executable meaning of the port. */
final class MemoryOutbox implements Outbox {
  private final MemoryStore store;
  private final Map<ResourceKey, Row> rows = new HashMap<>();
  private final Map<String, LaneHold> holds = new TreeMap<>();
  private int read;
  private String owner = "";
  private Instant until = Instant.MIN;
  private String target = "";

  MemoryOutbox(MemoryStore store) {
    this.store = store;
  }

  /**
   * A resource and its place in line.
   *
   * @param change number of its first change that waits
   * @param since when that was written
   */
  private record Row(String lane, int change, Instant since, Publication state) {
    boolean waits() {
      return state.version() > state.sentVersion();
    }

    Row with(Publication other) {
      return new Row(lane, change, since, other);
    }
  }

  @Override
  public synchronized boolean lead(String who, Instant now, Instant newUntil) {
    boolean free = owner.equals(who) || !until.isAfter(now);
    if (free) {
      owner = who;
      until = newUntil;
    }
    return free;
  }

  @Override
  public synchronized void resign(String who) {
    if (owner.equals(who)) {
      owner = "";
      until = Instant.MIN;
    }
  }

  @Override
  public synchronized boolean aim(String newTarget) {
    boolean changed = !target.equals(newTarget);
    if (changed) {
      target = newTarget;
      rows.replaceAll(
          (key, row) -> row.with(new Publication(key, row.state().version(), 0, "", "")));
      holds.clear();
    }
    return changed;
  }

  @Override
  public synchronized int take(int limit) {
    List<StoredResource> changes = store.changesAfter(read).stream().limit(limit).toList();
    for (StoredResource change : changes) {
      read++;
      rows.merge(
          change.key(),
          new Row(
              change.patientId(),
              read,
              change.lastUpdated(),
              new Publication(change.key(), change.version(), 0, "", "")),
          MemoryOutbox::waitOn);
    }
    return changes.size();
  }

  private static Row waitOn(Row before, Row change) {
    Publication old = before.state();
    Publication state =
        new Publication(
            old.key(),
            Math.max(old.version(), change.state().version()),
            old.sentVersion(),
            old.theirId(),
            old.theirVersion());
    Row place = before.waits() ? before : change;
    return new Row(change.lane(), place.change(), place.since(), state);
  }

  @Override
  public synchronized List<String> ready(Instant now, int limit) {
    return inLine()
        .filter(row -> held(row.lane()).filter(hold -> hold.holds(now)).isEmpty())
        .limit(limit)
        .map(Row::lane)
        .distinct()
        .toList();
  }

  @Override
  public synchronized List<Publication> waiting(String lane, int limit) {
    return inLine().filter(row -> row.lane().equals(lane)).limit(limit).map(Row::state).toList();
  }

  @Override
  public synchronized Map<ResourceKey, Publication> known(Collection<ResourceKey> keys) {
    return keys.stream()
        .distinct()
        .filter(rows::containsKey)
        .collect(Collectors.toMap(UnaryOperator.identity(), key -> row(key).state()));
  }

  @Override
  public synchronized void accepted(Collection<Publication> taken) {
    for (Publication one : taken) {
      Row row =
          rows.getOrDefault(
              one.key(), new Row("", 0, Instant.EPOCH, new Publication(one.key(), 0, 0, "", "")));
      Publication state = row.state();
      rows.put(
          one.key(),
          row.with(
              new Publication(
                  one.key(),
                  Math.max(state.version(), one.sentVersion()),
                  Math.max(state.sentVersion(), one.sentVersion()),
                  one.theirId(),
                  one.theirVersion())));
    }
  }

  @Override
  public synchronized void again(Collection<ResourceKey> keys) {
    keys.stream()
        .distinct()
        .filter(rows::containsKey)
        .forEach(
            key -> {
              Publication old = row(key).state();
              Publication unsent = new Publication(key, old.version(), 0, old.theirId(), "");
              rows.put(key, row(key).with(unsent));
            });
  }

  @Override
  public synchronized void hold(LaneHold hold) {
    holds.put(hold.lane(), hold);
  }

  @Override
  public synchronized boolean release(String lane) {
    return holds.remove(lane) != null;
  }

  @Override
  public boolean release(String lane, Optional<ResourceKey> skipped, List<AuditEntry> audit) {
    boolean held = release(lane, skipped);
    if (held) {
      store.write(
          tx -> {
            tx.audit(audit);
            return true;
          });
    }
    return held;
  }

  private synchronized boolean release(String lane, Optional<ResourceKey> skipped) {
    boolean held = release(lane);
    if (held) {
      skipped.ifPresent(this::skip);
    }
    return held;
  }

  private void skip(ResourceKey key) {
    rows.computeIfPresent(
        key,
        (same, row) -> {
          Publication old = row.state();
          return row.with(
              new Publication(
                  key, old.version(), old.version(), old.theirId(), old.theirVersion()));
        });
  }

  @Override
  public synchronized Optional<LaneHold> held(String lane) {
    return Optional.ofNullable(holds.get(lane));
  }

  @Override
  public synchronized Backlog backlog() {
    List<StoredResource> unread = store.changesAfter(read);
    List<Instant> oldest = new ArrayList<>(inLine().limit(1).map(Row::since).toList());
    unread.stream().limit(1).map(StoredResource::lastUpdated).forEach(oldest::add);
    return new Backlog(
        inLine().count(),
        unread.size(),
        oldest.stream().min(Instant::compareTo),
        holds.values().stream()
            .sorted(Comparator.comparing(LaneHold::since).thenComparing(LaneHold::lane))
            .toList());
  }

  private Stream<Row> inLine() {
    return rows.values().stream().filter(Row::waits).sorted(Comparator.comparing(Row::change));
  }

  private Row row(ResourceKey key) {
    return Optional.ofNullable(rows.get(key)).orElseThrow();
  }
}
