package indwell.web.fhir;

import indwell.adapter.store.memory.MemoryExportJobs;
import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.PlainFacility;
import indwell.fhir.map.Reporter;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.usecase.Facility;
import indwell.usecase.Predictions;
import indwell.usecase.SearchResources;
import indwell.usecase.audit.AuditTrail;
import indwell.usecase.export.ExportFolder;
import indwell.usecase.export.ExportLimits;
import indwell.usecase.export.Exports;
import indwell.web.access.AccessMode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.UUID;

/**
 * What a {@link FhirServer} is made of. Before anything is set: a store in memory, a clock that
 * stands still, a house in Berlin that asks nobody who they are and keeps no trail.
 */
final class FhirSetup {
  static final Instant NOW = Instant.parse("2026-03-10T12:00:00Z");
  static final Facility BERLIN = PlainFacility.in(ZoneId.of("Europe/Berlin"));

  private Optional<ClinicalStore> given = Optional.empty();
  private Exporting exporting = FhirSetup::inTemporaryFolder;
  ProfileValidator validator = new FlawFinder();
  Facility facility = BERLIN;
  Clock clock = new MovableClock(NOW);
  Predictions predictions = Predictions.OFF;
  Optional<Reporter> reporter = Optional.empty();
  AccessMode mode = new AccessMode.Development();
  AuditTrail trail = AuditTrail.NONE;

  /** Makes the exports over a store; the server starts them. */
  @FunctionalInterface
  interface Exporting {
    Exports over(ClinicalStore store, SearchResources search, Clock clock);
  }

  /** A store that stays open when the server is closed. */
  FhirSetup over(ClinicalStore store) {
    given = Optional.of(store);
    return this;
  }

  FhirSetup exporting(Exporting other) {
    exporting = other;
    return this;
  }

  FhirSetup validator(ProfileValidator other) {
    validator = other;
    return this;
  }

  FhirSetup facility(Facility other) {
    facility = other;
    return this;
  }

  FhirSetup clock(Clock other) {
    clock = other;
    return this;
  }

  /** A clock that stands still for good. */
  FhirSetup at(Instant now) {
    return clock(Clock.fixed(now, ZoneOffset.UTC));
  }

  FhirSetup predictions(Predictions other) {
    predictions = other;
    return this;
  }

  FhirSetup reporter(Reporter other) {
    reporter = Optional.of(other);
    return this;
  }

  FhirSetup mode(AccessMode other) {
    mode = other;
    return this;
  }

  FhirSetup trail(AuditTrail other) {
    trail = other;
    return this;
  }

  /** Whether the store is the server's own. */
  boolean closesStore() {
    return given.isEmpty();
  }

  /** The store that was given, or a new one. */
  ClinicalStore store() {
    return given.orElseGet(MemoryStore::new);
  }

  Exports exports(ClinicalStore store, SearchResources search) {
    return exporting.over(store, search, clock);
  }

  private static Exports inTemporaryFolder(
      ClinicalStore store, SearchResources search, Clock clock) {
    try {
      return new Exports(
          store,
          new MemoryExportJobs(),
          ExportFolder.open(Files.createTempDirectory("indwell-exports-")),
          search,
          new ExportFilters(search, ZoneOffset.UTC),
          ExportLimits.of(4, Duration.ofHours(1)),
          Clock.fixed(clock.instant(), ZoneOffset.UTC),
          () -> UUID.randomUUID().toString());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
