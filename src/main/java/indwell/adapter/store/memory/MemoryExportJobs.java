package indwell.adapter.store.memory;

import indwell.port.ExportJob;
import indwell.port.ExportJobs;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/** Keeps the exports in memory and nothing longer than the process. */
public final class MemoryExportJobs implements ExportJobs {
  private final Map<String, ExportJob> jobs = new TreeMap<>();

  @Override
  public synchronized void add(ExportJob job) {
    if (jobs.putIfAbsent(job.id(), job) != null) {
      throw new IllegalStateException("The job is there already.");
    }
  }

  @Override
  public synchronized Optional<ExportJob> find(String id) {
    return Optional.ofNullable(jobs.get(id));
  }

  @Override
  public synchronized List<ExportJob> all() {
    return jobs.values().stream()
        .sorted(Comparator.comparing(ExportJob::transactionTime).thenComparing(ExportJob::id))
        .toList();
  }

  @Override
  public synchronized boolean end(ExportJob job) {
    return find(job.id()).filter(one -> one.state() == ExportJob.State.UNFINISHED).isPresent()
        && jobs.put(job.id(), job) != null;
  }

  @Override
  public synchronized boolean remove(String id) {
    return jobs.remove(id) != null;
  }
}
