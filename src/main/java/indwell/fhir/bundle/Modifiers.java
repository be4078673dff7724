package indwell.fhir.bundle;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.refusal.Visible;
import java.util.ArrayList;
import java.util.List;
import java.util.function.UnaryOperator;
import org.hl7.fhir.r4.model.Base;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Resource;

/**
 * What may turn the meaning of a resource round: modifier extensions and implicit rules. None of
 * them is understood here, so a resource that has one must not be taken for what it says.
 *
 * <p>Source: https://hl7.org/fhir/R4/extensibility.html#modifierExtension,
 * https://hl7.org/fhir/R4/resource-definitions.html#Resource.implicitRules
 */
public final class Modifiers {
  private static final String EXTENSION = "modifierExtension";
  private static final String RULES = "implicitRules";
  private static final int MOST_SHOWN = 120;

  private Modifiers() {}

  /**
   * Those that a resource has, in itself, in its elements and in what it contains.
   *
   * @param place says where an element stands, by its path within the resource
   */
  public static List<Issue> of(Resource sent, UnaryOperator<String> place) {
    List<Issue> found = new ArrayList<>();
    Elements.walk(
        sent,
        (path, element) -> {
          String name = path.substring(path.lastIndexOf('.') + 1);
          if (name.equals(RULES)) {
            found.add(issue(place, path, "Rules " + shown(element.primitiveValue())));
          }
          boolean modifies = name.startsWith(EXTENSION + "[");
          if (modifies) {
            found.add(issue(place, path, "Modifier extension " + url(element)));
          }
          return !modifies;
        });
    return found;
  }

  /**
   * Whether the text of a resource may have any; looking through the text is much faster than
   * looking through the resource. A name may be spelt with escapes.
   */
  public static boolean mayBeIn(String json) {
    return json.contains(EXTENSION) || json.contains(RULES) || json.contains("\\u");
  }

  private static String url(Base element) {
    return shown(element instanceof Extension extension ? extension.getUrl() : "");
  }

  private static String shown(String sent) {
    return Visible.quoted(sent == null ? "" : sent, MOST_SHOWN);
  }

  /** The refusal of what stands at a place and cannot be understood. */
  private static Issue issue(UnaryOperator<String> place, String path, String what) {
    return Issue.error(
        IssueCode.MODIFIER_NOT_UNDERSTOOD,
        place.apply(path),
        what + " at " + path + " cannot be understood; expected a resource without it.");
  }
}
