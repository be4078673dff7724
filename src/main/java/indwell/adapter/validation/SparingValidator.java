package indwell.adapter.validation;

import indwell.adapter.validation.PlainElements.Glance;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.hl7.fhir.common.hapi.validation.validator.FhirInstanceValidator;
import org.hl7.fhir.r5.conformance.profile.ProfileUtilities.SourcedChildDefinitions;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.elementmodel.Element;
import org.hl7.fhir.r5.model.Base.ValidationMode;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.hl7.fhir.r5.utils.validation.ValidatorSession;
import org.hl7.fhir.r5.utils.xver.XVerExtensionManagerOld;
import org.hl7.fhir.utilities.validation.ValidationMessage;
import org.hl7.fhir.validation.BaseValidator.BooleanHolder;
import org.hl7.fhir.validation.ValidatorSettings;
import org.hl7.fhir.validation.instance.InstanceValidator;
import org.hl7.fhir.validation.instance.ResourcePercentageLogger;
import org.hl7.fhir.validation.instance.utils.ElementInfo;
import org.hl7.fhir.validation.instance.utils.NodeStack;
import org.hl7.fhir.validation.instance.utils.ValidationContext;
import org.jspecify.annotations.Nullable;

/**
 * The library's validator, spared the elements that are right at a glance. Most of a resource is: a
 * code that was found before, a time in its usual form, a text. Of those the library has nothing to
 * say, and takes dozens of steps to find out.
 *
 * <p>Nothing is known here of what is wrong: whatever is not plainly right goes to the library, so
 * every message is the library's.
 */
final class SparingValidator extends InstanceValidator {
  /** In these, a reference may lead to another resource of the same document. */
  private static final Set<String> GROUPING = Set.of("Bundle", "Parameters");

  private static final int LONGEST_LANGUAGE = 20;

  private final PlainElements plain;
  private boolean baseOnly;
  private boolean grouping;

  SparingValidator(IWorkerContext context, PlainElements plain) {
    super(
        context,
        new FhirInstanceValidator.NullEvaluationContext(),
        new XVerExtensionManagerOld(context),
        new ValidatorSession(),
        new ValidatorSettings());
    this.plain = plain;
  }

  @Override
  public void validate(
      Object caller,
      List<ValidationMessage> errors,
      String path,
      Element element,
      List<StructureDefinition> profiles) {
    baseOnly = profiles.isEmpty();
    grouping = GROUPING.contains(element.fhirType());
    super.validate(caller, errors, path, element, profiles);
  }

  @Override
  public boolean checkChild(
      ValidationContext run,
      List<ValidationMessage> errors,
      StructureDefinition profile,
      ElementDefinition definition,
      Element resource,
      Element element,
      String actualType,
      NodeStack stack,
      boolean inCodeableConcept,
      boolean checkDisplayInContext,
      ElementInfo child,
      String extensionUrl,
      ResourcePercentageLogger percentage,
      ValidationMode mode) {
    // What the library says depends on these, too.
    int mood = (baseOnly ? 1 : 0) + (inCodeableConcept ? 2 : 0) + (checkDisplayInContext ? 4 : 0);
    String language = stack.getWorkingLang() == null ? "" : stack.getWorkingLang();
    boolean special = run.isMatchetype() || language.length() > LONGEST_LANGUAGE;
    Glance glance =
        special ? Glance.NONE : look(profile, element, stack, child, extensionUrl, mood + language);
    boolean unspoken = isUnspoken(errors, child.getPath());
    if (glance.isRight() && unspoken) {
      return true;
    }
    int before = errors.size();
    boolean right =
        super.checkChild(
            run,
            errors,
            profile,
            definition,
            resource,
            element,
            actualType,
            stack,
            inCodeableConcept,
            checkDisplayInContext,
            child,
            extensionUrl,
            percentage,
            mode);
    if (right && unspoken && errors.size() == before) {
      glance.learn();
    }
    return right;
  }

  private Glance look(
      StructureDefinition profile,
      Element element,
      NodeStack stack,
      ElementInfo child,
      @Nullable String extensionUrl,
      String mood) {
    if (!child.getName().equals("extension")) {
      return plain.look(profile, element, child, mood, grouping);
    }
    // A part of an extension is looked at with all of it.
    return extensionUrl == null
        ? plain.lookAtExtension(profile, child, stack.getLogicalPaths(), mood, grouping)
        : Glance.NONE;
  }

  /**
   * Whether nothing was said of an element yet. What was is not said twice, and a required value
   * set takes back what another said, be that of another profile: an element that had a message is
   * for the library.
   */
  private boolean isUnspoken(List<ValidationMessage> errors, String path) {
    for (TrackedLocationRelatedMessage one : trackedMessages) {
      if (isAbout(one.getVmsg(), path)) {
        return false;
      }
    }
    for (ValidationMessage one : errors) {
      if (isAbout(one, path)) {
        return false;
      }
    }
    return true;
  }

  private static boolean isAbout(ValidationMessage message, String path) {
    return message.getLocation() != null && message.getLocation().startsWith(path);
  }

  @Override
  public boolean checkInvariants(
      ValidationContext run,
      List<ValidationMessage> errors,
      StructureDefinition profile,
      ElementDefinition definition,
      Element resource,
      Element element,
      NodeStack stack,
      boolean onlyNonInherited) {
    SureConstraints known = plain.constraintsOf(definition);
    if (!known.hold(element)) {
      return super.checkInvariants(
          run, errors, profile, definition, resource, element, stack, onlyNonInherited);
    }
    return !known.hasUnknown()
        || super.checkInvariants(
            run, errors, profile, known.unknown(), resource, element, stack, onlyNonInherited);
  }

  @Override
  public List<String> assignChildren(
      ValidationContext run,
      List<ValidationMessage> errors,
      StructureDefinition profile,
      Element element,
      Element resource,
      NodeStack stack,
      SourcedChildDefinitions definitions,
      List<ElementInfo> children,
      BooleanHolder right) {
    // The children of a type that takes any name are not found by their names.
    boolean named = element.getProperty().getExtensionStyle() == null;
    return named && plain.childrenOf(definitions).assign(children)
        ? new ArrayList<>()
        : super.assignChildren(
            run, errors, profile, element, resource, stack, definitions, children, right);
  }

  @Override
  public boolean checkCardinalities(
      List<ValidationMessage> errors,
      StructureDefinition profile,
      Element element,
      NodeStack stack,
      SourcedChildDefinitions definitions,
      List<ElementInfo> children,
      List<String> problems) {
    return (problems.isEmpty() && plain.childrenOf(definitions).isCounted(children))
        || super.checkCardinalities(
            errors, profile, element, stack, definitions, children, problems);
  }
}
