package indwell.fhir.bundle;

import indwell.fhir.term.Systems;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.hl7.fhir.r4.model.Base;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.Device.FHIRDeviceStatus;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Property;
import org.hl7.fhir.r4.model.Resource;

/**
 * Where a resource that was sent says something that the events do not make. A contradiction is a
 * fact that would be lost; what the service works out by itself, and what no event carries, is only
 * told of.
 */
public final class Agreement {
  private static final Set<String> ANY = Set.of("*");

  /** Elements that are the service's affair, whatever was sent. */
  private static final Set<String> NEVER_COMPARED = Set.of("id", "meta", "text", "language");

  /** Elements that are worked out from all events, so that a sender cannot know them. */
  private static final Map<String, Set<String>> WORKED_OUT =
      Map.of(
          "Patient", ANY,
          "Location", ANY,
          "Encounter", Set.of("status", "class", "period", "location"),
          "Device", Set.of("status"),
          "Procedure", Set.of("status", "location"),
          "Observation", Set.of("status"),
          "Specimen", Set.of("status", "type", "collection"));

  /** Elements that no event could carry otherwise, so that leaving them out would lose a fact. */
  private static final Map<String, Set<String>> FACTS =
      Map.of(
          "Device", Set.of("type", "property", "lotNumber", "udiCarrier"),
          "Encounter", Set.of("extension"));

  private Agreement() {}

  /** How grave a difference is. */
  public enum Kind {
    /** Something else is made. */
    CONTRADICTION,
    /** The service works it out, and found something else. */
    WORKED_OUT,
    /** No event carries it. */
    NOT_KEPT
  }

  /**
   * One difference.
   *
   * @param element path within the resource, {@code property[1]}
   */
  public record Difference(String element, Kind kind) {}

  /**
   * What is sent and agrees with none of the resources made.
   *
   * @param made what all events make, and what those of the caller make by themselves; at least one
   */
  public static List<Difference> between(Resource sent, List<Resource> made) {
    Map<String, Kind> differences = new LinkedHashMap<>(between(sent, made.get(0)));
    for (Resource other : made.subList(1, made.size())) {
      differences.keySet().retainAll(between(sent, other).keySet());
    }
    List<Difference> all = new ArrayList<>();
    differences.forEach((element, kind) -> all.add(new Difference(element, kind)));
    return all;
  }

  private static Map<String, Kind> between(Resource sent, Resource made) {
    Map<String, Kind> differences = new LinkedHashMap<>();
    for (Property property : sent.children()) {
      if (!NEVER_COMPARED.contains(property.getName())) {
        compare(property, made, differences);
      }
    }
    return differences;
  }

  private static void compare(Property sent, Resource made, Map<String, Kind> differences) {
    List<Base> others = SameMeaning.valuesOf(made, sent.getName());
    String name = sent.getName().replace("[x]", "");
    int index = 0;
    for (Base value : SameMeaning.stated(sent)) {
      if (others.stream().noneMatch(other -> SameMeaning.holds(value, other))) {
        String element = sent.getMaxCardinality() > 1 ? name + "[" + index + "]" : name;
        differences.put(
            element, foreign(value) ? Kind.NOT_KEPT : kind(name, !others.isEmpty(), made));
      }
      index++;
    }
  }

  /** An extension that is none of ours. */
  private static boolean foreign(Base value) {
    return value instanceof Extension extension && !extension.getUrl().startsWith(Systems.BASE);
  }

  private static Kind kind(String element, boolean isMade, Resource made) {
    Set<String> workedOut = WORKED_OUT.getOrDefault(made.fhirType(), Set.of());
    if (workedOut.contains(element)
        || workedOut.equals(ANY)
        || (made instanceof Device device && device.getStatus() == FHIRDeviceStatus.UNKNOWN)) {
      return isMade ? Kind.WORKED_OUT : Kind.NOT_KEPT;
    }
    boolean isFact = FACTS.getOrDefault(made.fhirType(), Set.of()).contains(element);
    return isMade || isFact ? Kind.CONTRADICTION : Kind.NOT_KEPT;
  }
}
