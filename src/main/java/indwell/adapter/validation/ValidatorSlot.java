package indwell.adapter.validation;

import java.io.ByteArrayInputStream;
import java.util.ArrayList;
import java.util.List;
import org.hl7.fhir.common.hapi.validation.validator.FhirDefaultPolicyAdvisor;
import org.hl7.fhir.common.hapi.validation.validator.FhirInstanceValidator;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.elementmodel.Manager.FhirFormat;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.hl7.fhir.r5.utils.validation.ValidatorSession;
import org.hl7.fhir.r5.utils.validation.constants.BestPracticeWarningLevel;
import org.hl7.fhir.r5.utils.validation.constants.IdStatus;
import org.hl7.fhir.r5.utils.xver.XVerExtensionManagerOld;
import org.hl7.fhir.utilities.validation.ValidationMessage;
import org.hl7.fhir.validation.ValidatorSettings;
import org.hl7.fhir.validation.instance.InstanceValidator;

/**
 * One validator, used by one thread at a time.
 *
 * <p>The library's own module makes a validator a call, and its constructor reads a table of 1.5 MB
 * each time, which is most of the cost of a validation. This one is kept for {@value #USES}
 * resources, not for good: it remembers the codings of every resource that it has seen and offers
 * no way to forget them. A test holds its messages against those of the library's module, one
 * resource after another through one slot.
 */
final class ValidatorSlot {
  static final int USES = 100;

  private final IWorkerContext context;
  private InstanceValidator validator;
  private int used;

  ValidatorSlot(IWorkerContext context) {
    this.context = context;
    this.validator = fresh(context);
  }

  private static InstanceValidator fresh(IWorkerContext context) {
    InstanceValidator validator =
        new InstanceValidator(
            context,
            new FhirInstanceValidator.NullEvaluationContext(),
            new XVerExtensionManagerOld(context),
            new ValidatorSession(),
            new ValidatorSettings());
    validator.setAnyExtensionsAllowed(true);
    validator.setBestPracticeWarningLevel(BestPracticeWarningLevel.Ignore);
    validator.setErrorForUnknownProfiles(true);
    // The chain decides how grave an unknown code system is; the library asks for this to be so.
    validator.setUnknownCodeSystemsCauseErrors(true);
    validator.setResourceIdRule(IdStatus.OPTIONAL);
    validator.setAllowExamples(true);
    // References point outside the one resource that is here, so there is nothing to follow.
    validator.setAssumeValidRestReferences(true);
    validator.setPolicyAdvisor(new FhirDefaultPolicyAdvisor());
    return validator;
  }

  /** The messages in the order in which the validator came upon them. */
  List<ValidationMessage> validate(byte[] json, List<StructureDefinition> profiles) {
    if (used++ == USES) {
      validator = fresh(context);
      used = 1;
    }
    List<ValidationMessage> messages = new ArrayList<>();
    validator.validate(null, messages, new ByteArrayInputStream(json), FhirFormat.JSON, profiles);
    return messages;
  }
}
