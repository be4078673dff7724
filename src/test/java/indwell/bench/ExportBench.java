package indwell.bench;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.postgres.PostgresStore;
import indwell.contract.PlainFacility;
import indwell.contract.TestPostgres;
import indwell.domain.time.FacilityCalendar;
import indwell.fhir.map.MappingContext;
import indwell.port.ExportJob;
import indwell.port.ExportJob.State;
import indwell.port.ExportOrder;
import indwell.port.ExportOrder.Scope;
import indwell.usecase.Facility;
import indwell.usecase.PatientFlags;
import indwell.usecase.SearchResources;
import indwell.usecase.export.ExportFolder;
import indwell.usecase.export.ExportLimits;
import indwell.usecase.export.ExportTypes;
import indwell.usecase.export.Exports;
import java.nio.file.Files;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * An export of everything against one statement that streams the same resources out. The resources
 * of some episodes are made by intake; each of their rows is then repeated under other ids until
 * there are as many as asked for.
 */
final class ExportBench {
  private static final int TRIES = 5;

  /** Ids have the length that the mapper gives them; wards stay the few that they are. */
  private static final String REPEAT =
      "INSERT INTO resource (reference, version, newest, last_updated, patient_id, identifiers, json)"
          + " SELECT type || '/' || other, version, newest, last_updated, patient_id, identifiers,"
          + " replace(json, id, other) FROM (SELECT r.*, split_part(reference, '/', 1) AS type,"
          + " split_part(reference, '/', 2) AS id, left(encode(sha256((reference || copy)::bytea),"
          + " 'hex'), length(split_part(reference, '/', 2))) AS other"
          + " FROM resource r, generate_series(1, %d) AS copy"
          + " WHERE reference NOT LIKE 'Location/%%') AS repeated";

  private static final String NEWEST = "SELECT count(*) FROM resource WHERE newest = 1";

  /**
   * The comparison.
   *
   * @param asked newest versions of resources, at least
   */
  List<Row> rows(int episodes, long asked) throws Exception {
    PlainPostgres plain = new PlainPostgres(TestPostgres.newDatabase());
    try (JdbcStore store =
        PostgresStore.open(plain.url(), TestPostgres.USER, TestPostgres.PASSWORD)) {
      Filling.fill(store, 0, episodes);
      long made = plain.number(NEWEST);
      plain.run(REPEAT.formatted(Math.max(0, (asked - 1) / made)));
      plain.run("VACUUM ANALYZE resource");
      long resources = plain.number(NEWEST);
      CpuTime begin = CpuTime.now();
      double copy = resources / Stopwatch.fastest(TRIES, plain::copyOut);
      System.out.println("A resource of COPY: " + spent(begin, resources));
      begin = CpuTime.now();
      double ours = exported(store);
      System.out.println("A resource of $export: " + spent(begin, resources));
      return List.of(
          new Row(
              "$export of %,d resources, without flags".formatted(resources),
              ours,
              "COPY (SELECT json) TO STDOUT",
              copy,
              "resources/s",
              0.5));
    }
  }

  /** Resources a second of the fastest try, from the kick-off to the finished files. */
  private static double exported(JdbcStore store) throws Exception {
    FacilityCalendar calendar = new FacilityCalendar(ZoneOffset.UTC);
    Facility facility = PlainFacility.in(calendar.zone());
    SearchResources search =
        new SearchResources(
            store, new PatientFlags(store, facility, new MappingContext(ZoneOffset.UTC)));
    try (Exports exports =
        new Exports(
            store,
            store.exportJobs("bench"),
            ExportFolder.open(Files.createTempDirectory("indwell-bench-")),
            search,
            (base, filter, at) -> Optional.empty(),
            ExportLimits.of(1, Duration.ofHours(1)),
            Clock.systemUTC(),
            () -> UUID.randomUUID().toString())) {
      exports.start();
      double fastest = 0;
      for (int i = 0; i < TRIES; i++) {
        fastest = Math.max(fastest, exported(exports));
      }
      return fastest;
    }
  }

  private static double exported(Exports exports) throws InterruptedException {
    long start = System.nanoTime();
    String id = exports.order(everything()).orElseThrow();
    ExportJob job = awaited(exports, id);
    double seconds = (System.nanoTime() - start) / 1e9;
    exports.remove(id);
    return job.files().stream().mapToLong(file -> file.count()).sum() / seconds;
  }

  /** Of all tries, as what the machine does beside does not count. */
  private static String spent(CpuTime begin, long resources) {
    return CpuTime.now().since(begin).of(TRIES * resources);
  }

  private static ExportJob awaited(Exports exports, String id) throws InterruptedException {
    while (exports.find(id).orElseThrow().state() == State.UNFINISHED) {
      Thread.sleep(20);
    }
    ExportJob job = exports.find(id).orElseThrow();
    if (job.state() != State.FINISHED) {
      throw new IllegalStateException("The export is " + job.state());
    }
    return job;
  }

  private static ExportOrder everything() {
    List<String> stored = ExportTypes.all().stream().filter(type -> !type.equals("Flag")).toList();
    return new ExportOrder(
        Scope.SYSTEM,
        "",
        stored,
        List.of(),
        Set.of(),
        Instant.MIN,
        Instant.MAX,
        "",
        false,
        "http://localhost/fhir",
        "http://localhost/fhir/$export",
        List.of());
  }
}
