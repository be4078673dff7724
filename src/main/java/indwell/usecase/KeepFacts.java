package indwell.usecase;

import indwell.domain.surveillance.WardMonth;
import indwell.intake.FactsReading;
import indwell.intake.FactsText;
import indwell.port.AuditEntry;
import indwell.port.StoredFacts;
import indwell.port.SurveillanceFacts;
import indwell.port.SurveillanceFacts.Recorded;
import indwell.port.SurveillanceFacts.Stated;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;

/** Takes the facts that people supply for surveillance, and gives them back with their history. */
public final class KeepFacts {
  private final SurveillanceFacts facts;
  private final Facility facility;

  public KeepFacts(SurveillanceFacts facts, Facility facility) {
    this.facts = facts;
    this.facility = facility;
  }

  /** The facility's date, which no fact may be ahead of. */
  public LocalDate today(Instant now) {
    return facility.calendar().dateOf(now);
  }

  /**
   * Takes all of them or, when the one is stale, none.
   *
   * @param ifVersion taken only if this is the newest version
   * @param rows tells the audit trail of what is written, in the same transaction
   */
  public List<Recorded> record(
      List<FactsReading.Accepted> accepted,
      OptionalInt ifVersion,
      Instant now,
      Function<List<Recorded>, List<AuditEntry>> rows) {
    return facts.record(
        accepted.stream()
            .map(one -> new Stated(one.month(), FactsText.canonical(one.facts()), ifVersion))
            .toList(),
        now,
        rows);
  }

  /** The newest version. */
  public Optional<StoredFacts> newest(WardMonth month) {
    return facts.newest(month);
  }

  /** All versions, newest first. */
  public List<StoredFacts> versions(WardMonth month) {
    return facts.versions(month);
  }
}
