package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import ca.uhn.fhir.validation.FhirValidator;
import ca.uhn.fhir.validation.ResultSeverityEnum;
import indwell.adapter.store.memory.MemoryExportJobs;
import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.PlainFacility;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.port.ClinicalStore;
import indwell.port.ExportFile;
import indwell.port.ExportJob;
import indwell.port.ExportJob.State;
import indwell.port.ExportOrder;
import indwell.port.ExportOrder.Scope;
import indwell.usecase.Facility;
import indwell.usecase.PatientFlags;
import indwell.usecase.RecordEvents;
import indwell.usecase.SearchResources;
import indwell.usecase.export.ExportFolder;
import indwell.usecase.export.ExportLimits;
import indwell.usecase.export.ExportTypes;
import indwell.usecase.export.Exports;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The library's own validator, which is slow, finds no error in any line of a small export. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ExportedLinesTest {
  private static final Instant NOW = Instant.parse("2026-03-10T12:00:00Z");
  private static final ZoneId ZONE = ZoneId.of("Europe/Berlin");

  private static final List<String> EVENTS =
      List.of(
          event("e1", "patient-admitted", "2026-03-01T08:00:00Z", "'ward':'A-1'"),
          event(
              "e2",
              "catheter-inserted",
              "2026-03-01T09:00:00Z",
              "'catheterId':'c1','route':'urethral','sizeCh':14,'balloonLabelMl':10,"
                  + "'balloonFilledMl':5,'urineReturnedMl':300,'maxDwellDays':3,"
                  + "'indication':'acute-retention','steps':{'hand-hygiene':'not-done'}"),
          event("e3", "weight-measured", "2026-03-01T09:30:00Z", "'kg':70"),
          event(
              "e4",
              "urine-measured",
              "2026-03-01T15:00:00Z",
              "'from':'2026-03-01T09:00:00Z','volumeMl':20"),
          event(
              "e5",
              "care-checked",
              "2026-03-01T16:00:00Z",
              "'catheterId':'c1','items':{'bag-off-floor':true}"),
          event(
              "e6",
              "need-reviewed",
              "2026-03-02T08:00:00Z",
              "'catheterId':'c1','stillNeeded':false"),
          event("e7", "specimen-collected", "2026-03-02T09:00:00Z", "'catheterId':'c1'"),
          event("e8", "securement-changed", "2026-03-02T10:00:00Z", "'catheterId':'c1'"),
          event(
              "e9",
              "catheter-exchanged",
              "2026-03-03T10:00:00Z",
              "'catheterId':'c1','replacement':{'catheterId':'c2','route':'urethral','sizeCh':16,"
                  + "'indication':'urine-sampling'}"),
          event("e10", "catheter-removed", "2026-03-04T10:00:00Z", "'catheterId':'c2'"),
          event("e11", "patient-discharged", "2026-03-05T10:00:00Z", ""));

  @TempDir Path folder;

  private static String event(String id, String type, String at, String details) {
    return ("{'source':'ward','eventId':'%s','type':'%s','occurredAt':'%s',"
            + "'patient':{'system':'urn:test:mrn','value':'p1'},"
            + "'encounter':{'system':'urn:test:stay','value':'s1'},'details':{%s}}")
        .formatted(id, type, at, details);
  }

  @Test
  void every_line_meets_its_profile() throws Exception {
    FhirValidator stock = StockChain.validator(Cases.FHIR);
    int lines = 0;
    try (ClinicalStore store = new MemoryStore()) {
      Facility facility = PlainFacility.in(ZONE);
      MappingContext context = new MappingContext(ZONE);
      RecordEvents recordEvents = new RecordEvents(store, Cases.VALIDATOR, context);
      for (String body : EVENTS) {
        byte[] line = body.replace('\'', '"').getBytes(StandardCharsets.UTF_8);
        assertThat(recordEvents.record(EventBodies.line(line, NOW), NOW).status()).isEqualTo(201);
      }
      SearchResources search =
          new SearchResources(store, new PatientFlags(store, facility, context));
      try (Exports exports = exports(store, search)) {
        exports.start();
        ExportJob job = finished(exports);
        assertThat(job.files().stream().map(ExportFile::type).collect(Collectors.toSet()))
            .containsExactlyInAnyOrderElementsOf(ExportTypes.all());
        for (ExportFile file : job.files()) {
          for (String line :
              Files.readAllLines(exports.file(job.id(), file.name()).orElseThrow())) {
            lines++;
            assertThat(line).contains("\"profile\":[\"https://indwell.example/fhir/");
            assertThat(stock.validateWithResult(line).getMessages())
                .as(line)
                .noneMatch(
                    one -> one.getSeverity().ordinal() >= ResultSeverityEnum.ERROR.ordinal());
          }
        }
      }
    }
    assertThat(lines).isGreaterThan(35);
  }

  private Exports exports(ClinicalStore store, SearchResources search) {
    return new Exports(
        store,
        new MemoryExportJobs(),
        ExportFolder.open(folder),
        search,
        (base, filter, at) -> Optional.empty(),
        ExportLimits.of(1, Duration.ofHours(1)),
        Clock.fixed(NOW, ZoneOffset.UTC),
        () -> "the-only-one");
  }

  private static ExportJob finished(Exports exports) {
    ExportOrder order =
        new ExportOrder(
            Scope.SYSTEM,
            "",
            ExportTypes.all(),
            List.of(),
            Set.of(),
            Instant.MIN,
            Instant.MAX,
            "",
            false,
            "http://localhost/fhir",
            "http://localhost/fhir/$export",
            List.of());
    String id = exports.order(order).orElseThrow();
    Awaitility.await()
        .atMost(Duration.ofSeconds(60))
        .until(() -> exports.find(id).orElseThrow().state() != State.UNFINISHED);
    ExportJob job = exports.find(id).orElseThrow();
    assertThat(job.state()).isEqualTo(State.FINISHED);
    return job;
  }
}
