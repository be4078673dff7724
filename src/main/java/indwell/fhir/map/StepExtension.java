package indwell.fhir.map;

import indwell.domain.event.InsertionStep;
import indwell.domain.event.StepResult;
import indwell.fhir.term.BedsideTerms;
import indwell.fhir.term.Extensions;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.hl7.fhir.r4.model.CodeType;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.StringType;

/** The charted steps of an insertion as extensions {@code catheter-insertion-step}. */
final class StepExtension {
  private static final String STEP = "step";
  private static final String RESULT = "result";

  private StepExtension() {}

  /** One extension for each charted step, in bedside order. */
  static List<Extension> toFhir(Map<InsertionStep, StepResult> steps) {
    return new TreeMap<>(steps)
        .entrySet().stream().map(charted -> toFhir(charted.getKey(), charted.getValue())).toList();
  }

  private static Extension toFhir(InsertionStep step, StepResult result) {
    Extension extension = new Extension(Extensions.INSERTION_STEP);
    extension.addExtension(STEP, BedsideTerms.of(step).coding());
    extension.addExtension(RESULT, new CodeType(result.code()));
    return extension;
  }

  static Map<InsertionStep, StepResult> fromFhir(List<Extension> extensions) {
    Map<InsertionStep, StepResult> steps = new EnumMap<>(InsertionStep.class);
    for (Extension extension : extensions) {
      Coding step = (Coding) extension.getExtensionByUrl(STEP).getValue();
      StringType result = (StringType) extension.getExtensionByUrl(RESULT).getValue();
      steps.put(
          InsertionStep.ofCode(step.getCode()).orElseThrow(),
          StepResult.ofCode(result.getValue()).orElseThrow());
    }
    return steps;
  }
}
