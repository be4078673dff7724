package indwell.adapter.validation;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import org.hl7.fhir.common.hapi.validation.validator.FhirDefaultPolicyAdvisor;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.elementmodel.JsonParser;
import org.hl7.fhir.r5.elementmodel.ValidatedFragment;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.hl7.fhir.r5.utils.validation.constants.BestPracticeWarningLevel;
import org.hl7.fhir.r5.utils.validation.constants.IdStatus;
import org.hl7.fhir.utilities.validation.ValidationMessage;
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
  static final int USES = 1_000;

  /** The library keeps whole resources with what it remembers, so large ones count for more. */
  private static final int MOST_BYTES = 1_000_000;

  private final IWorkerContext context;
  private final PlainElements plain;
  private final JsonParser parser;
  private InstanceValidator validator;
  private int used;
  private long read;

  ValidatorSlot(IWorkerContext context) {
    this.context = context;
    this.plain = new PlainElements(context);
    this.parser = new SparingParser(context);
    this.validator = fresh(context, plain);
  }

  private static InstanceValidator fresh(IWorkerContext context, PlainElements plain) {
    InstanceValidator validator = new SparingValidator(context, plain);
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
    if (used == USES || read > MOST_BYTES) {
      validator = fresh(context, plain);
      used = 0;
      read = 0;
    }
    used++;
    read += json.length;
    List<ValidationMessage> messages = new ArrayList<>();
    for (ValidatedFragment part : parts(json)) {
      if (part.getElement() != null) {
        validator.validate(null, part.getErrors(), null, part.getElement(), profiles);
      }
      messages.addAll(part.getErrors());
    }
    return messages;
  }

  private List<ValidatedFragment> parts(byte[] json) {
    try {
      return parser.parse(new ByteArrayInputStream(json));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
