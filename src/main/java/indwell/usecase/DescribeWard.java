package indwell.usecase;

import indwell.domain.event.Ward;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.rule.OwnSettings;
import indwell.domain.rule.SettingsHistory;
import indwell.fhir.bundle.Modifiers;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.Identifiers;
import indwell.fhir.map.UnusableSetting;
import indwell.fhir.map.WardSettingsExtension;
import indwell.fhir.search.SearchValues;
import indwell.fhir.term.Profiles;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Origin;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Date;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeSet;
import org.hl7.fhir.r4.model.Location;
import org.hl7.fhir.r4.model.Meta;

/**
 * Puts what a ward says of itself on record: its name, its kind, and from which date on it counts
 * and flags by what. The past stays as it was counted, unless the caller says that it is to change.
 */
public final class DescribeWard {
  private final ClinicalStore store;
  private final ProfileValidator validator;
  private final Facility facility;

  public DescribeWard(ClinicalStore store, ProfileValidator validator, Facility facility) {
    this.store = store;
    this.validator = validator;
    this.facility = facility;
  }

  /**
   * What is asked.
   *
   * @param json a Location whose id is the ward code
   * @param ifVersion the version that has to be the current one; empty for any
   * @param restate whether settings of dates that have passed may change
   */
  // The bytes are never compared or printed.
  @SuppressWarnings("ArrayRecordComponent")
  public record Description(Ward ward, byte[] json, Optional<Integer> ifVersion, boolean restate) {}

  /** What became of it. */
  public sealed interface Answer permits Kept, Invalid, Refused {}

  /** It is on record. */
  public record Kept(StoredResource location, Change change) implements Answer {}

  /** The Location does not meet its profile; nothing is written. */
  public record Invalid(List<Finding> findings) implements Answer {
    public Invalid {
      findings = List.copyOf(findings);
    }
  }

  /** It is not what the caller takes it for, or it would change the past; nothing is written. */
  public record Refused(Issue issue) implements Answer {}

  /** What a description changed. */
  public enum Change {
    CREATED,
    UPDATED,
    NONE
  }

  /**
   * Takes a description in.
   *
   * @param origin who asks, for the audit trail
   */
  public Answer put(Description asked, Instant now, Origin origin) {
    List<Finding> findings = validator.validate(asked.json(), List.of(Profiles.WARD));
    if (findings.stream().anyMatch(Finding::isError)) {
      return new Invalid(findings);
    }
    List<Issue> modifiers = Modifiers.of(parse(asked.json()), path -> "Location." + path);
    if (!modifiers.isEmpty()) {
      return new Refused(modifiers.get(0));
    }
    try {
      return store.write(tx -> told(tx, put(tx, asked, now), now, origin));
    } catch (UnusableSetting unusable) {
      return new Refused(Issue.error(unusable.code(), "Location.extension", unusable.sentence()));
    }
  }

  private static Answer told(Writing tx, Answer answer, Instant now, Origin origin) {
    if (answer instanceof Kept kept) {
      boolean created = kept.change() == Change.CREATED;
      tx.audit(
          List.of(
              new AuditEntry(
                  now.truncatedTo(ChronoUnit.MILLIS),
                  origin,
                  created ? Interaction.CREATE : Interaction.UPDATE,
                  Optional.of(kept.location().key().reference()),
                  Optional.empty(),
                  "",
                  created ? 201 : 200,
                  Optional.empty())));
    }
    return answer;
  }

  private Answer put(Writing tx, Description asked, Instant now) {
    ResourceKey key = new ResourceKey("Location", asked.ward().code());
    tx.lockPatients(new TreeSet<>(List.of(key.reference())));
    Optional<StoredResource> before = tx.resource(key);
    Location location = parse(asked.json());
    claim(location);
    Optional<Issue> refused =
        notTheVersion(asked, before).or(() -> pastChanged(asked, before, location, now));
    if (refused.isPresent()) {
      return new Refused(refused.get());
    }
    if (before.isPresent() && content(parse(before.get())).equals(content(location))) {
      return new Kept(before.get(), Change.NONE);
    }
    StoredResource next = next(tx, before, key, location, now);
    tx.put(next);
    tx.findBy(next, SearchValues.of(location));
    return new Kept(next, before.isPresent() ? Change.UPDATED : Change.CREATED);
  }

  private static void claim(Location location) {
    location.setMeta(new Meta().addProfile(Profiles.WARD));
  }

  private static Location parse(byte[] json) {
    return (Location) FhirJson.parse(new String(json, StandardCharsets.UTF_8));
  }

  private static Location parse(StoredResource stored) {
    return (Location) FhirJson.parse(stored.json());
  }

  /** All but version and time. */
  private static String content(Location location) {
    Location bare = location.copy();
    bare.getMeta().setVersionId(null).setLastUpdated(null);
    bare.setId(location.getIdElement().getIdPart());
    return FhirJson.encode(bare);
  }

  private static Optional<Issue> notTheVersion(Description asked, Optional<StoredResource> before) {
    Optional<Integer> current = before.map(StoredResource::version);
    if (asked.ifVersion().isEmpty() || Objects.equals(asked.ifVersion(), current)) {
      return Optional.empty();
    }
    return Optional.of(
        Issue.error(
            IssueCode.NOT_THE_CURRENT_VERSION,
            "",
            "Version "
                + asked.ifVersion().get()
                + " of ward "
                + asked.ward().code()
                + " is not the current one; expected "
                + current.map(version -> "version " + version).orElse("no If-Match, it is new")
                + "."));
  }

  private Optional<Issue> pastChanged(
      Description asked, Optional<StoredResource> before, Location location, Instant now) {
    LocalDate today = facility.calendar().dateOf(now);
    SettingsHistory known =
        before
            .map(DescribeWard::parse)
            .map(WardSettingsExtension::fromFhir)
            .orElse(SettingsHistory.NONE);
    List<OwnSettings> past = known.begunBefore(today);
    List<OwnSettings> pastAsked = WardSettingsExtension.fromFhir(location).begunBefore(today);
    if (asked.restate() || past.equals(pastAsked)) {
      return Optional.empty();
    }
    return Optional.of(
        Issue.error(
            IssueCode.SETTINGS_OF_THE_PAST,
            "Location.extension",
            "The settings before "
                + today
                + " are not those on record ("
                + dates(past)
                + "); expected them unchanged and new ones from "
                + today
                + " on, or restate=true to have the past counted anew."));
  }

  private static String dates(List<OwnSettings> entries) {
    return entries.isEmpty()
        ? "none"
        : "from " + String.join(", ", entries.stream().map(one -> one.from().toString()).toList());
  }

  private static StoredResource next(
      Writing tx,
      Optional<StoredResource> before,
      ResourceKey key,
      Location location,
      Instant now) {
    int version = before.map(StoredResource::version).orElse(0) + 1;
    Instant time = tx.time(now).truncatedTo(ChronoUnit.MILLIS);
    Instant written = before.map(one -> one.timeAfter(time)).orElse(time);
    location.setId(key.id());
    location.getMeta().setVersionId(Integer.toString(version)).setLastUpdated(Date.from(written));
    return new StoredResource(
        key, version, written, "", Identifiers.tokensOf(location), FhirJson.encode(location));
  }
}
