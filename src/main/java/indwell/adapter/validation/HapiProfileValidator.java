package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import indwell.port.ProfileValidator;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.hl7.fhir.utilities.filesystem.ManagedFileAccess;
import org.hl7.fhir.utilities.filesystem.ManagedFileAccess.FileAccessPolicy;
import org.hl7.fhir.utilities.http.ManagedWebAccess;
import org.hl7.fhir.utilities.http.ManagedWebAccess.WebAccessPolicy;
import org.hl7.fhir.utilities.validation.ValidationMessage;
import org.jspecify.annotations.Nullable;

/**
 * HAPI's validator over {@code fhir-profiles} and base R4.
 *
 * <p>Raw bytes go in, so that what is validated is what is stored. The first validation of each
 * profile prepares it; call {@link #warmUp} before traffic.
 */
public final class HapiProfileValidator implements ProfileValidator {
  private static final Pattern UNKNOWN_MEASURE =
      Pattern.compile("The Measure '(\\S+)' could not be resolved");

  /** Of {@link #exercise} a slot: each further one gains less than it takes from callers. */
  private static final int ROUNDS = 2;

  private final LazyContext context;
  private final ValidatorPool pool;
  private final List<String> ownProfiles;
  private final Set<String> ownMeasures;
  private volatile boolean warm;

  HapiProfileValidator(LazyContext context, List<OwnFile> own, int slots) {
    // Whatever a resource names, the validator must neither reach out for it nor look on the disk.
    ManagedWebAccess.setAccessPolicy(WebAccessPolicy.PROHIBITED);
    ManagedFileAccess.setAccessPolicy(FileAccessPolicy.PROHIBITED);
    this.context = context;
    this.ownProfiles = resourceProfiles(own);
    this.ownMeasures = measures(own);
    this.pool = new ValidatorPool(slots, () -> new ValidatorSlot(context));
  }

  /**
   * Opens a validator over the profiles on the class path.
   *
   * @param fhir an R4 context; it is only read
   * @param slots validations that can run at once, at least 1
   */
  public static HapiProfileValidator open(FhirContext fhir, int slots) {
    List<OwnFile> own = OwnFile.all();
    Groundwork packed = PackedGroundwork.of(OwnFile.fingerprint(own));
    Groundwork groundwork = packed == null ? Groundwork.scanned() : packed;
    return new HapiProfileValidator(DefinitionSet.of(fhir, own, groundwork).context(), own, slots);
  }

  private static List<String> resourceProfiles(List<OwnFile> own) {
    return own.stream()
        .filter(file -> file.type().equals(BaseDefinitions.STRUCTURE))
        .filter(file -> file.kind().equals("resource"))
        .map(OwnFile::id)
        .toList();
  }

  private static Set<String> measures(List<OwnFile> own) {
    return own.stream()
        .filter(file -> file.type().equals("Measure"))
        .map(file -> file.url() + "|" + file.version())
        .collect(Collectors.toUnmodifiableSet());
  }

  @Override
  public List<Finding> validate(byte[] json, List<String> profiles) {
    List<Finding> findings = new ArrayList<>();
    Set<StructureDefinition> known = new LinkedHashSet<>();
    for (String profile : profiles) {
      StructureDefinition definition = definition(profile);
      if (definition == null) {
        findings.add(Findings.unknownProfile(profile));
      } else {
        known.add(definition);
      }
    }
    // Handed over by name, a profile costs one pass over the resource less than when the validator
    // comes upon it. Of one that is claimed and unknown, it speaks itself.
    for (String profile : ClaimedProfiles.of(json)) {
      StructureDefinition definition = definition(profile);
      if (definition != null) {
        known.add(definition);
      }
    }
    findings.addAll(told(json, List.copyOf(known)));
    return List.copyOf(findings);
  }

  private List<Finding> told(byte[] json, List<StructureDefinition> profiles) {
    List<ValidationMessage> messages;
    try {
      messages = messages(json, profiles);
    } catch (NotFinished failed) {
      // What is no FHIR may be too much for the library: a reference of a slash alone is.
      return List.of(Findings.notFinished(failed));
    }
    // Most resources are sound, and then nothing has to be looked up.
    return messages.isEmpty()
        ? List.of()
        : Findings.told(messages, elements(json, profiles), new Codes(context));
  }

  private List<ValidationMessage> messages(byte[] json, List<StructureDefinition> profiles) {
    return Overstrict.without(Findings.sorted(pool.validate(json, profiles)), json).stream()
        .filter(one -> !isAboutOwnMeasure(one.getMessage()))
        .toList();
  }

  /** Ours are kept from the validator ({@link OwnDefinitions}), which then calls them unknown. */
  private boolean isAboutOwnMeasure(String message) {
    Matcher unknown = UNKNOWN_MEASURE.matcher(message);
    return unknown.lookingAt() && ownMeasures.contains(unknown.group(1));
  }

  /** The definitions that a message may be about: what was checked, and what the resource names. */
  private Elements elements(byte[] json, List<StructureDefinition> profiles) {
    Set<StructureDefinition> all = new LinkedHashSet<>(profiles);
    for (String named : ClaimedProfiles.andExtensions(json)) {
      StructureDefinition definition = definition(named);
      if (definition != null) {
        all.add(definition);
      }
    }
    return new Elements(context, List.copyOf(all));
  }

  /** All that the library says of a resource, as it says it. */
  List<String> libraryLines(byte[] json) {
    List<StructureDefinition> claimed =
        ClaimedProfiles.of(json).stream()
            .flatMap(profile -> Stream.ofNullable(definition(profile)))
            .toList();
    return Findings.sorted(pool.validate(json, claimed)).stream().map(Findings::line).toList();
  }

  @Override
  public boolean knows(String profile) {
    return definition(profile) != null;
  }

  /** Whether {@link #warmUp} has come to its end. */
  @Override
  public boolean ready() {
    return warm;
  }

  private @Nullable StructureDefinition definition(String profile) {
    return context.fetchResource(StructureDefinition.class, profile);
  }

  /**
   * Prepares every own profile, so that the first resource of a caller does not wait for
   * definitions.
   *
   * @throws IllegalStateException if a sample is not valid: the profiles and the validator disagree
   */
  public void warmUp() {
    samples().onceBy(pool.size());
    warm = true;
  }

  /**
   * Goes on with the same samples for a while, in the thread that calls, so that the compiler sees
   * the work before callers bring much of it. It takes one slot at a time, for one sample.
   */
  public void exercise() {
    WarmUp samples = samples();
    for (int round = 0; round < ROUNDS * pool.size(); round++) {
      samples.once();
    }
  }

  private WarmUp samples() {
    return new WarmUp(ownProfiles, this);
  }
}
