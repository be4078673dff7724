package indwell.adapter.validation;

import java.util.IdentityHashMap;
import java.util.List;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.elementmodel.Element;
import org.hl7.fhir.r5.elementmodel.JsonParser;
import org.hl7.fhir.r5.elementmodel.Property;
import org.hl7.fhir.r5.extensions.ExtensionDefinitions;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.utilities.json.model.JsonProperty;
import org.hl7.fhir.utilities.validation.ValidationMessage;

/**
 * The library's reader of JSON, spared the members that an object does not have. The library looks
 * for every element that its type could have; what none of the members can be for is not read.
 */
final class SparingParser extends JsonParser {
  private static final String CHOICE = "[x]";

  /** Extensions of a definition by which an element is read from a member of another name. */
  private static final List<String> RENAMING =
      List.of(
          ExtensionDefinitions.EXT_JSON_NAME,
          ExtensionDefinitions.EXT_JSON_NAME_DEPRECATED,
          ExtensionDefinitions.EXT_JSON_PRIMITIVE_CHOICE);

  /** Properties are made once for each definition and kept by the library, too. */
  private final IdentityHashMap<Property, Member> members = new IdentityHashMap<>();

  SparingParser(IWorkerContext context) {
    super(context);
    setupValidation(ValidationPolicy.EVERYTHING);
  }

  /**
   * The member of an object that an element is read from.
   *
   * @param stem what the name begins with, of a choice of types; empty where the name is that of
   *     the element
   * @param hash of the name, by which the library finds it
   * @param extra of the name of the member beside it, of extensions of a primitive value
   * @param isOrdinary whether it is known here how the library finds it
   */
  private record Member(String stem, int hash, int extra, boolean isOrdinary) {
    static Member of(Property property) {
      ElementDefinition definition = property.getDefinition();
      String name = property.getName();
      boolean isChoice = name.endsWith(CHOICE);
      return new Member(
          isChoice ? name.substring(0, name.length() - CHOICE.length()) : "",
          name.hashCode(),
          ("_" + name).hashCode(),
          property.isChoice() == isChoice && RENAMING.stream().noneMatch(definition::hasExtension));
    }

    boolean mayBeAmong(List<JsonProperty> given) {
      for (JsonProperty one : given) {
        if (one.getTag() == 0 && mayBe(one)) {
          return true;
        }
      }
      return false;
    }

    private boolean mayBe(JsonProperty given) {
      if (stem.isEmpty()) {
        return given.getNameHash() == hash || given.getNameHash() == extra;
      }
      String name = given.getName();
      return name.startsWith(stem) || (name.startsWith("_") && name.startsWith(stem, 1));
    }
  }

  @Override
  public void parseChildItem(
      List<ValidationMessage> errors,
      String path,
      List<JsonProperty> given,
      Element element,
      Property property) {
    Member member = members.computeIfAbsent(property, Member::of);
    if (!member.isOrdinary || member.mayBeAmong(given)) {
      super.parseChildItem(errors, path, given, element, property);
    }
  }
}
