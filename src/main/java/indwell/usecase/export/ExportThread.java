package indwell.usecase.export;

import indwell.port.ClinicalStore;
import indwell.port.ExportFile;
import indwell.port.ExportJob;
import indwell.port.ExportJob.State;
import indwell.port.ExportJobs;
import indwell.port.StoreUnavailable;
import indwell.usecase.SearchResources;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;

/** The one thread that makes exports and clears away what is left of them. */
final class ExportThread {
  private static final Logger LOG = System.getLogger(ExportThread.class.getName());

  private static final Duration SWEEP = Duration.ofMinutes(1);
  private static final long STOP_MILLIS = 10_000;

  private final ClinicalStore store;
  private final ExportJobs jobs;
  private final ExportFolder folder;
  private final SearchResources search;
  private final TypeFilters filters;
  private final ExportLimits limits;
  private final Clock clock;
  private final Map<String, Progress> running = new ConcurrentHashMap<>();
  private final ScheduledThreadPoolExecutor thread;

  ExportThread(
      ClinicalStore store,
      ExportJobs jobs,
      ExportFolder folder,
      SearchResources search,
      TypeFilters filters,
      ExportLimits limits,
      Clock clock) {
    this.store = store;
    this.jobs = jobs;
    this.folder = folder;
    this.search = search;
    this.filters = filters;
    this.limits = limits;
    this.clock = clock;
    this.thread =
        new ScheduledThreadPoolExecutor(
            1,
            task -> {
              Thread one = new Thread(task, "indwell-export");
              one.setDaemon(true);
              return one;
            });
    thread.setExecuteExistingDelayedTasksAfterShutdownPolicy(false);
  }

  void start() {
    Future<?> unused =
        thread.scheduleWithFixedDelay(this::sweep, 0, SWEEP.toMillis(), TimeUnit.MILLISECONDS);
    jobs.all().stream().filter(job -> job.state() == State.UNFINISHED).forEach(this::run);
  }

  void run(ExportJob job) {
    thread.execute(() -> runNow(job));
  }

  Optional<Progress> progress(String id) {
    return Optional.ofNullable(running.get(id));
  }

  /** Stops a run; the files go when it has stopped, or now when there is none. */
  void forget(String id) {
    Optional<Progress> run = progress(id);
    if (run.isPresent()) {
      run.get().stop();
    } else {
      clear(id);
    }
  }

  void close() {
    thread.shutdown();
    running.values().forEach(Progress::stop);
    try {
      if (!thread.awaitTermination(STOP_MILLIS, TimeUnit.MILLISECONDS)) {
        LOG.log(Level.WARNING, "An export did not stop in time.");
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void runNow(ExportJob job) {
    Progress progress = new Progress(job.order().types().size());
    running.put(job.id(), progress);
    try {
      if (thread.isShutdown()) {
        return;
      }
      if (jobs.find(job.id()).isPresent()) {
        end(job, State.FINISHED, write(job, progress));
      }
    } catch (Progress.Stopped stopped) {
      LOG.log(Level.DEBUG, "An export was stopped.");
    } catch (StoreUnavailable away) {
      LOG.log(Level.WARNING, "An export waits: the store is away.");
      later(job);
    } catch (IOException | RuntimeException defect) {
      // The message of an exception may quote a resource, its kind does not.
      LOG.log(Level.ERROR, "An export failed: {0}", defect.getClass().getName());
      fail(job);
    } finally {
      running.remove(job.id());
      clearIfForgotten(job.id());
    }
  }

  private List<ExportFile> write(ExportJob job, Progress progress) throws IOException {
    ExportSource source =
        new ExportSource(store, search, filters, job.order(), job.transactionTime(), limits.page());
    Path files = folder.empty(job.id());
    try (Run run = new Run(source, job, files, limits.linesPerFile(), progress)) {
      List<ExportFile> made = run.write();
      folder.force(job.id());
      return made;
    }
  }

  private void end(ExportJob job, State how, List<ExportFile> files) {
    jobs.end(job.over(how, clock.instant().plus(limits.keep()), files));
  }

  private void fail(ExportJob job) {
    try {
      end(job, State.FAILED, List.of());
    } catch (StoreUnavailable away) {
      later(job);
    }
  }

  private void later(ExportJob job) {
    if (!thread.isShutdown()) {
      Future<?> unused =
          thread.schedule(() -> runNow(job), limits.pause().toMillis(), TimeUnit.MILLISECONDS);
    }
  }

  /**
   * Forgets what has expired, and removes the files of what is forgotten. On the thread that makes
   * exports, so that no folder is made between its two looks.
   */
  private void sweep() {
    try {
      Instant now = clock.instant();
      for (ExportJob job : jobs.all()) {
        if (!job.expiresAt().isAfter(now) || lacksFiles(job)) {
          jobs.remove(job.id());
        }
      }
      folder.removeOthers(jobs.all().stream().map(ExportJob::id).collect(Collectors.toSet()));
    } catch (StoreUnavailable away) {
      LOG.log(Level.WARNING, "Exports were not cleared away: the store is away.");
    } catch (IOException | UncheckedIOException e) {
      LOG.log(Level.WARNING, "Exports were not cleared away: {0}", e.getClass().getName());
    }
  }

  private boolean lacksFiles(ExportJob job) {
    return job.files().stream().anyMatch(file -> folder.file(job.id(), file.name()).isEmpty());
  }

  private void clearIfForgotten(String id) {
    try {
      if (jobs.find(id).isEmpty()) {
        clear(id);
      }
    } catch (StoreUnavailable away) {
      LOG.log(Level.DEBUG, "The next sweep clears away.");
    }
  }

  private void clear(String id) {
    try {
      folder.remove(id);
    } catch (IOException | UncheckedIOException e) {
      LOG.log(Level.WARNING, "Files of an export were not removed: {0}", e.getClass().getName());
    }
  }
}
