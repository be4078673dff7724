package indwell.contract;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.memory.MemoryExportJobs;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.port.ClinicalStore;
import indwell.port.ExportFile;
import indwell.port.ExportFile.Kind;
import indwell.port.ExportJob;
import indwell.port.ExportJob.State;
import indwell.port.ExportJobs;
import indwell.port.ExportOrder;
import indwell.port.ExportOrder.Scope;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What every list of exports does. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ExportJobsTest {
  private static final Instant TIME = Instant.parse("2026-03-01T10:00:00.017Z");
  private static final Instant EXPIRES = Instant.parse("2026-03-02T10:00:01.019Z");
  private static final List<ExportFile> FILES =
      List.of(
          new ExportFile(Kind.OUTPUT, "Patient", "Patient-1.ndjson", 200_000),
          new ExportFile(Kind.OUTPUT, "Patient", "Patient-2.ndjson", 3),
          new ExportFile(Kind.DELETED, "Bundle", "deleted-Bundle-1.ndjson", 1),
          new ExportFile(Kind.ERROR, "OperationOutcome", "error-OperationOutcome-1.ndjson", 7));

  @TempDir Path folder;

  private static ExportJobs jobs(ClinicalStore store, String owner) {
    return store instanceof JdbcStore jdbc ? jdbc.exportJobs(owner) : new MemoryExportJobs();
  }

  private static ExportJob job(String id, Instant time) {
    ExportOrder order =
        new ExportOrder(
            Scope.GROUP,
            "A-1",
            List.of("Device", "Patient"),
            List.of("Procedure?code=http://snomed.info/sct|1,2&date=ge2026", "Patient?_id=\\x\n"),
            Set.of("p1", "p2"),
            Instant.parse("2026-02-01T00:00:00.001Z"),
            Instant.MAX,
            "https://issuer.example client-7",
            true,
            "http://127.0.0.1:8080/fhir",
            "http://127.0.0.1:8080/fhir/Group/A-1/$export?_type=Patient,Device",
            List.of("Passed over: one.", "Passed over: \"two\"."));
    return new ExportJob(id, order, time, State.UNFINISHED, Instant.MAX, List.of());
  }

  @ParameterizedTest
  @EnumSource
  void a_job_comes_back_as_it_was_added(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      ExportJobs jobs = jobs(store, "here");
      assertThat(jobs.find("j1")).isEmpty();
      jobs.add(job("j1", TIME));
      assertThat(jobs.find("j1")).contains(job("j1", TIME));
      assertThatThrownBy(() -> jobs.add(job("j1", TIME))).isInstanceOf(IllegalStateException.class);
    }
  }

  @ParameterizedTest
  @EnumSource
  void jobs_are_listed_in_the_order_of_their_times(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      ExportJobs jobs = jobs(store, "here");
      jobs.add(job("j2", TIME.plusMillis(1)));
      jobs.add(job("j3", TIME));
      jobs.add(job("j1", TIME.plusMillis(2)));
      assertThat(jobs.all()).extracting(ExportJob::id).containsExactly("j3", "j2", "j1");
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_job_ends_once_with_its_files_in_their_order(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      ExportJobs jobs = jobs(store, "here");
      jobs.add(job("j1", TIME));
      ExportJob ended = job("j1", TIME).over(State.FINISHED, EXPIRES, FILES);
      assertThat(jobs.end(ended)).isTrue();
      assertThat(jobs.find("j1")).contains(ended);
      assertThat(jobs.end(ended.over(State.FAILED, EXPIRES, List.of()))).isFalse();
      assertThat(jobs.all()).containsExactly(ended);
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_removed_job_is_gone_and_cannot_end(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      ExportJobs jobs = jobs(store, "here");
      jobs.add(job("j1", TIME));
      assertThat(jobs.remove("j1")).isTrue();
      assertThat(jobs.remove("j1")).isFalse();
      assertThat(jobs.find("j1")).isEmpty();
      assertThat(jobs.end(job("j1", TIME).over(State.FINISHED, EXPIRES, FILES))).isFalse();
      jobs.add(job("j1", TIME));
      assertThat(jobs.find("j1")).contains(job("j1", TIME));
    }
  }

  @ParameterizedTest
  @EnumSource(names = {"SQLITE", "POSTGRES"})
  void each_owner_sees_its_own_jobs_alone(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      jobs(store, "here").add(job("j1", TIME));
      assertThat(jobs(store, "there").find("j1")).isEmpty();
      assertThat(jobs(store, "there").all()).isEmpty();
      assertThat(jobs(store, "there").remove("j1")).isFalse();
      assertThat(jobs(store, "here").find("j1")).isPresent();
    }
  }

  @Test
  void a_job_is_there_when_the_store_is_opened_again() {
    try (JdbcStore store = SqliteStore.open(folder)) {
      store.exportJobs("here").add(job("j1", TIME));
      store.settle(TIME);
    }
    try (JdbcStore store = SqliteStore.open(folder)) {
      assertThat(store.exportJobs("here").find("j1")).contains(job("j1", TIME));
      assertThat(store.<Instant>write(w -> w.time(TIME))).isEqualTo(TIME.plusMillis(1));
    }
  }
}
