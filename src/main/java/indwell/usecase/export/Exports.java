package indwell.usecase.export;

import indwell.port.ClinicalStore;
import indwell.port.ExportJob;
import indwell.port.ExportJob.State;
import indwell.port.ExportJobs;
import indwell.port.ExportOrder;
import indwell.usecase.SearchResources;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;

/**
 * Takes orders for exports and says how far they are. One thread makes them, one after the other;
 * the orders are durable, and those that were not finished are made from their start again after a
 * restart, of the same settled past.
 */
public final class Exports implements AutoCloseable {
  private final ClinicalStore store;
  private final ExportJobs jobs;
  private final ExportFolder folder;
  private final ExportLimits limits;
  private final Clock clock;
  private final Supplier<String> ids;
  private final ExportThread thread;

  /**
   * Nothing runs before {@link #start}.
   *
   * @param ids makes names that cannot be guessed, of letters, digits and hyphens
   */
  public Exports(
      ClinicalStore store,
      ExportJobs jobs,
      ExportFolder folder,
      SearchResources search,
      TypeFilters filters,
      ExportLimits limits,
      Clock clock,
      Supplier<String> ids) {
    this.store = store;
    this.jobs = jobs;
    this.folder = folder;
    this.limits = limits;
    this.clock = clock;
    this.ids = ids;
    this.thread = new ExportThread(store, jobs, folder, search, filters, limits, clock);
  }

  /** Takes up what was not finished, and removes the files of what is not known any more. */
  public void start() {
    thread.start();
  }

  /**
   * Takes an order: what is committed by now is exported.
   *
   * @return the id of the job; empty when as many are unfinished as may be
   */
  public synchronized Optional<String> order(ExportOrder order) {
    List<ExportJob> all = jobs.all();
    if (all.stream().filter(job -> job.state() == State.UNFINISHED).count()
        >= limits.unfinished()) {
      return Optional.empty();
    }
    ExportJob job =
        new ExportJob(
            ids.get(),
            order,
            store.settle(clock.instant()),
            State.UNFINISHED,
            Instant.MAX,
            List.of());
    jobs.add(job);
    thread.run(job);
    return Optional.of(job.id());
  }

  /** How many orders wait or run. */
  public long unfinished() {
    return jobs.all().stream().filter(job -> job.state() == State.UNFINISHED).count();
  }

  /** Whether there is a Group with that id. */
  public boolean knowsGroup(String id) {
    return WardGroup.exists(store, id);
  }

  /** Ids of the patients in a Group. */
  public Set<String> members(String group) {
    return WardGroup.members(store, group);
  }

  /** The job with that id, unless it is removed or has expired. */
  public Optional<ExportJob> find(String id) {
    return jobs.find(id).filter(job -> job.expiresAt().isAfter(clock.instant()));
  }

  /** How far a job is that is running; empty while it waits for its turn. */
  public Optional<Progress> progress(String id) {
    return thread.progress(id);
  }

  /** A file of a finished job. */
  public Optional<Path> file(String id, String name) {
    return find(id)
        .filter(job -> job.files().stream().anyMatch(file -> file.name().equals(name)))
        .flatMap(job -> folder.file(id, name));
  }

  /** Cancels a job, or forgets one that is over; false when there is none. */
  public boolean remove(String id) {
    boolean known = find(id).isPresent() && jobs.remove(id);
    if (known) {
      thread.forget(id);
    }
    return known;
  }

  /** Stops at once; what is unfinished stays so. */
  @Override
  public void close() {
    thread.close();
    folder.close();
  }
}
