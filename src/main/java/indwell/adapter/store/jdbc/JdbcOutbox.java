package indwell.adapter.store.jdbc;

import indwell.port.AuditEntry;
import indwell.port.Backlog;
import indwell.port.LaneHold;
import indwell.port.Outbox;
import indwell.port.Publication;
import indwell.port.ResourceKey;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;

/** The outbox in SQL: the tables {@code publication}, of holds and of the feed. */
final class JdbcOutbox implements Outbox {
  private final JdbcStore store;
  private final Database database;

  JdbcOutbox(JdbcStore store, Database database) {
    this.store = store;
    this.database = database;
  }

  @Override
  public boolean lead(String owner, Instant now, Instant until) {
    return store.writeRows(sql -> new FeedTable(sql).lead(owner, now, until));
  }

  @Override
  public void resign(String owner) {
    store.writeRows(sql -> new FeedTable(sql).resign(owner));
  }

  @Override
  public boolean aim(String target) {
    return store.writeRows(
        sql -> {
          boolean changed = new FeedTable(sql).aim(target);
          if (changed) {
            new PublicationTable(sql).forgetAll();
            new HoldTable(sql).removeAll();
          }
          return changed;
        });
  }

  /** What may still appear is found out first, on a connection of its own. */
  @Override
  public int take(int limit) {
    long settled = JdbcStore.attempt(database::settledChange);
    long read = store.readRows(sql -> new FeedTable(sql).change());
    return settled <= read ? 0 : store.writeRows(sql -> takeUpTo(settled, limit, sql));
  }

  private static int takeUpTo(long settled, int limit, Sql sql) {
    FeedTable feed = new FeedTable(sql);
    PublicationTable publications = new PublicationTable(sql);
    List<PublicationTable.Change> changes = publications.changes(feed.change(), settled, limit);
    publications.wait(changes);
    // Numbers that were drawn and never used are passed over for good.
    boolean all = changes.size() < limit;
    feed.moveTo(all ? settled : changes.get(changes.size() - 1).change());
    return changes.size();
  }

  @Override
  public List<String> ready(Instant now, int limit) {
    return store.readRows(sql -> new PublicationTable(sql).ready(now, limit));
  }

  @Override
  public List<Publication> waiting(String lane, int limit) {
    return store.readRows(sql -> new PublicationTable(sql).waiting(lane, limit));
  }

  @Override
  public Map<ResourceKey, Publication> known(Collection<ResourceKey> keys) {
    List<Publication> found = store.readRows(sql -> new PublicationTable(sql).known(keys));
    return found.stream().collect(Collectors.toMap(Publication::key, Function.identity()));
  }

  @Override
  public void accepted(Collection<Publication> taken) {
    store.writeRows(sql -> new PublicationTable(sql).accepted(taken));
  }

  @Override
  public void again(Collection<ResourceKey> keys) {
    store.writeRows(sql -> new PublicationTable(sql).again(keys));
  }

  @Override
  public void hold(LaneHold hold) {
    store.writeRows(sql -> new HoldTable(sql).put(hold));
  }

  @Override
  public boolean release(String lane) {
    return store.writeRows(sql -> new HoldTable(sql).remove(lane));
  }

  @Override
  public boolean release(String lane, Optional<ResourceKey> skipped, List<AuditEntry> rows) {
    boolean released = store.writeRows(sql -> release(sql, lane, skipped, rows));
    if (released) {
      store.audited(rows.size());
    }
    return released;
  }

  private static boolean release(
      Sql sql, String lane, Optional<ResourceKey> skipped, List<AuditEntry> rows) {
    boolean held = new HoldTable(sql).remove(lane);
    if (held) {
      skipped.ifPresent(key -> new PublicationTable(sql).skip(key));
      new AuditTable(sql).add(rows);
    }
    return held;
  }

  @Override
  public Optional<LaneHold> held(String lane) {
    return store.readRows(sql -> new HoldTable(sql).of(lane));
  }

  @Override
  public Backlog backlog() {
    return store.readRows(
        sql -> {
          PublicationTable publications = new PublicationTable(sql);
          long read = new FeedTable(sql).change();
          List<Instant> oldest = new ArrayList<>(publications.oldestWaiting());
          oldest.addAll(publications.oldestUnread(read));
          return new Backlog(
              publications.countWaiting(),
              publications.countUnread(read),
              oldest.stream().min(Instant::compareTo),
              new HoldTable(sql).all());
        });
  }
}
