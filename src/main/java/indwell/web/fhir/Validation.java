package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.port.ProfileValidator;
import indwell.web.HttpAnswer;
import java.util.List;
import java.util.Set;

/**
 * What both forms of {@code $validate} share. Whether a resource would be taken depends on the
 * record, too; the modes create and update ask no more here than whether it is valid.
 */
final class Validation {
  static final String DEFINITION = "http://hl7.org/fhir/OperationDefinition/Resource-validate";

  /** Mode delete is not among them: whether something may be deleted only its deletion tells. */
  private static final Set<String> MODES = Set.of("create", "update", "profile");

  private final ProfileValidator validator;

  Validation(ProfileValidator validator) {
    this.validator = validator;
  }

  /**
   * Validates; the answer is 200 whether or not the resource is valid.
   *
   * @throws FhirRefusal 422 for a profile that cannot be used, 400 for a mode that is not known
   */
  HttpAnswer answer(FhirRequest request, byte[] resource, ValidationInput input) {
    input
        .mode()
        .filter(mode -> !MODES.contains(mode))
        .ifPresent(
            mode -> {
              throw FhirRefusal.badParameter(
                  "mode",
                  "Mode "
                      + Shown.text(mode)
                      + " is not answered; expected create, update or profile.");
            });
    if (input.mode().filter("profile"::equals).isPresent() && input.profile().isEmpty()) {
      throw FhirRefusal.of(
          400,
          IssueCode.MISSING_PARAMETER,
          "profile",
          "Parameter profile is missing; expected one with mode profile.");
    }
    input
        .profile()
        .filter(canonical -> !validator.knows(canonical))
        .ifPresent(
            canonical -> {
              throw FhirRefusal.of(
                  422,
                  IssueCode.BAD_PARAMETER,
                  "profile",
                  "Profile "
                      + Shown.text(canonical)
                      + " is not known; expected one of R4 or one that the CapabilityStatement"
                      + " lists.");
            });
    List<String> profiles = input.profile().map(List::of).orElse(List.of());
    return FhirAnswers.resource(request, FindingOutcome.of(validator.validate(resource, profiles)));
  }
}
