package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.port.ProfileValidator;
import indwell.web.HttpAnswer;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** What both forms of {@code $validate} share. */
final class Validation {
  static final String DEFINITION = "http://hl7.org/fhir/OperationDefinition/Resource-validate";

  /** Modes that ask for nothing more than the rules themselves. */
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
  HttpAnswer answer(
      FhirRequest request, byte[] resource, Optional<String> mode, Optional<String> profile) {
    mode.filter(name -> !MODES.contains(name))
        .ifPresent(
            name -> {
              throw FhirRefusal.badParameter(
                  "mode",
                  "Mode "
                      + Shown.text(name)
                      + " is not known; expected create, update or profile.");
            });
    if (mode.filter("profile"::equals).isPresent() && profile.isEmpty()) {
      throw FhirRefusal.of(
          400,
          IssueCode.MISSING_PARAMETER,
          "profile",
          "Parameter profile is missing; expected one with mode profile.");
    }
    profile
        .filter(canonical -> !validator.knows(canonical))
        .ifPresent(
            canonical -> {
              throw FhirRefusal.of(
                  422,
                  IssueCode.BAD_PARAMETER,
                  "profile",
                  "Profile "
                      + Shown.text(canonical)
                      + " is not known; expected one that the CapabilityStatement lists.");
            });
    return FhirAnswers.resource(
        request,
        FindingOutcome.of(validator.validate(resource, profile.map(List::of).orElse(List.of()))));
  }
}
