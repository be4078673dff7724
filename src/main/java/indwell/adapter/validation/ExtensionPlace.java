package indwell.adapter.validation;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.elementmodel.Element;
import org.hl7.fhir.r5.model.CanonicalType;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.jspecify.annotations.Nullable;

/**
 * A place where extensions may stand, with what is remembered of them: which parts one had, with
 * which codes, that the library had nothing to say of. Amounts, times, ids and names in them are
 * looked at each time.
 */
final class ExtensionPlace implements PlainElements.Remembering {
  private static final String TYPE = "Extension";
  private static final int MOST = 100;
  private static final int LONGEST = 1_000;

  private final IWorkerContext context;
  private final @Nullable ElementDefinition slicer;

  /** The one extension that the place is for; empty where any may stand. */
  private final String only;

  private final Map<String, PlainExtension> byUrl = new HashMap<>();
  private final Set<String> found = new HashSet<>();

  private ExtensionPlace(IWorkerContext context, @Nullable ElementDefinition slicer, String only) {
    this.context = context;
    this.slicer = slicer;
    this.only = only;
  }

  /**
   * Empty where more is asked than which extension it is.
   *
   * @param slicer the definition of the extensions of which the place is one slice
   */
  static Optional<ExtensionPlace> of(
      IWorkerContext context,
      StructureDefinition profile,
      ElementDefinition definition,
      @Nullable ElementDefinition slicer) {
    boolean plain =
        isBare(profile, definition)
            && (slicer == null || (isBare(profile, slicer) && profiles(slicer).isEmpty()))
            && profiles(definition).size() <= 1;
    String only = profiles(definition).stream().findFirst().map(CanonicalType::getValue).orElse("");
    return plain ? Optional.of(new ExtensionPlace(context, slicer, only)) : Optional.empty();
  }

  private static boolean isBare(StructureDefinition profile, ElementDefinition definition) {
    return definition.getType().size() == 1
        && TYPE.equals(definition.getTypeFirstRep().getWorkingCode())
        && !definition.hasFixed()
        && !definition.hasPattern()
        && SureConstraints.knows(definition)
        && PlainDefinition.below(profile, definition).isEmpty();
  }

  private static List<CanonicalType> profiles(ElementDefinition definition) {
    return definition.getTypeFirstRep().getProfile();
  }

  /**
   * What has to be found before of an extension for it to be right; empty where the library has to
   * look.
   *
   * @param paths of the element that the extension is on
   */
  Optional<String> key(
      Element extension,
      @Nullable ElementDefinition slicedBy,
      Set<String> paths,
      boolean grouping) {
    String url = PlainExtension.url(extension);
    if (slicedBy != slicer || !(only.isEmpty() || only.equals(url))) {
      return Optional.empty();
    }
    PlainExtension known = known(url);
    if (known == null || !known.isMeantFor(paths)) {
      return Optional.empty();
    }
    StringBuilder key = new StringBuilder();
    return known.add(extension, key, grouping) && key.length() <= LONGEST
        ? Optional.of(key.toString())
        : Optional.empty();
  }

  private @Nullable PlainExtension known(String url) {
    PlainExtension known = byUrl.get(url);
    if (known == null && !url.isEmpty()) {
      known = PlainExtension.of(context, url).orElse(null);
      if (known != null) {
        byUrl.put(url, known);
      }
    }
    return known;
  }

  @Override
  public boolean hasFound(String key) {
    return found.contains(key);
  }

  /** The library had nothing to say of an extension with that key; whether that is remembered. */
  @Override
  public boolean learn(String key) {
    return found.size() < MOST && found.add(key);
  }
}
