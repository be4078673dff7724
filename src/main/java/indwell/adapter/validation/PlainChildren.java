package indwell.adapter.validation;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.hl7.fhir.r5.conformance.profile.ProfileUtilities.SourcedChildDefinitions;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.validation.instance.utils.ElementInfo;
import org.jspecify.annotations.Nullable;

/**
 * The definitions of the children of one element, by the names that they are for: which definition
 * is whose, and whether there are as many of each as there must be. Where slices come into it, or
 * anything is missing, too many or in another order, the library goes through all of it itself.
 */
final class PlainChildren {
  private static final String CHOICE = "[x]";

  private final SourcedChildDefinitions definitions;
  private final List<Place> places = new ArrayList<>();
  private final Map<String, Integer> byName = new HashMap<>();
  private final List<String> stems = new ArrayList<>();
  private boolean isPlain = true;

  /**
   * @param sliced whether slices are told apart at this place
   */
  private record Place(ElementDefinition definition, int index, int min, int max, boolean sliced) {}

  PlainChildren(SourcedChildDefinitions definitions) {
    this.definitions = definitions;
    List<ElementDefinition> all = definitions.getList();
    Set<String> ids = new HashSet<>();
    for (int i = 0; i < all.size(); i++) {
      ElementDefinition one = all.get(i);
      String name = one.getPath().substring(one.getPath().lastIndexOf('.') + 1);
      Integer before = byName.putIfAbsent(name, places.size());
      isPlain &= one.hasId() && ids.add(one.getId()) && one.getRepresentation().isEmpty();
      if (before == null) {
        places.add(new Place(one, i, one.getMin(), max(one), false));
        if (name.endsWith(CHOICE)) {
          stems.add(name.substring(0, name.length() - CHOICE.length()));
        }
      } else {
        // Slices stand behind what they are slices of.
        Place of = places.get(before);
        isPlain &= of.definition.hasSlicing();
        int min = Math.max(of.min, one.getMin());
        places.set(before, new Place(of.definition, of.index, min, of.max, true));
      }
    }
    isPlain &= stems.stream().noneMatch(this::isAmbiguous);
  }

  private boolean isAmbiguous(String stem) {
    return byName.keySet().stream()
        .anyMatch(name -> name.startsWith(stem) && !name.equals(stem + CHOICE));
  }

  private static int max(ElementDefinition definition) {
    String max = definition.getMax();
    return max == null || max.equals("*") ? Integer.MAX_VALUE : Integer.parseInt(max);
  }

  /** Gives each child its definition; false, with nothing given, where that is for the library. */
  boolean assign(List<ElementInfo> children) {
    if (!isPlain) {
      return false;
    }
    int last = -1;
    int[] found = new int[children.size()];
    for (int i = 0; i < found.length; i++) {
      Integer place = place(children.get(i).getName());
      if (place == null || place < last || places.get(place).sliced) {
        return false;
      }
      last = place;
      found[i] = place;
    }
    for (int i = 0; i < found.length; i++) {
      Place place = places.get(found[i]);
      children.get(i).setSliceInfo(new ArrayList<>());
      children.get(i).setDefinition(definitions.getSource(), place.definition);
      children.get(i).setIndex(place.index);
    }
    return true;
  }

  private @Nullable Integer place(String name) {
    Integer place = byName.get(name);
    if (place != null) {
      return name.endsWith(CHOICE) ? null : place;
    }
    for (String stem : stems) {
      if (name.startsWith(stem)) {
        return byName.get(stem + CHOICE);
      }
    }
    return null;
  }

  /** Whether there are neither too few nor too many of any; false where it is not clear. */
  boolean isCounted(List<ElementInfo> children) {
    if (!isPlain) {
      return false;
    }
    int[] counts = new int[places.size()];
    for (ElementInfo child : children) {
      Integer place = place(child.getName());
      if (place == null || child.getDefinition() != places.get(place).definition) {
        return false;
      }
      counts[place]++;
    }
    for (int i = 0; i < counts.length; i++) {
      Place place = places.get(i);
      boolean unclear = place.sliced && counts[i] > 0;
      if (unclear || counts[i] < place.min || counts[i] > place.max) {
        return false;
      }
    }
    return true;
  }
}
