package indwell.adapter.validation;

import indwell.port.ProfileValidator.Finding;
import indwell.port.ProfileValidator.Severity;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import org.hl7.fhir.utilities.i18n.I18nConstants;
import org.hl7.fhir.utilities.validation.ValidationMessage;

/** Turns the validator's messages into findings. */
final class Findings {
  /** Says that a binding names no value set: a fault of a definition, not of the resource. */
  private static final String ABOUT_DEFINITIONS = I18nConstants.TERMINOLOGY_TX_BINDING_NOSOURCE;

  private static final Set<String> UNKNOWN_PROFILE =
      Set.of(
          I18nConstants.VALIDATION_VAL_PROFILE_UNKNOWN,
          I18nConstants.VALIDATION_VAL_PROFILE_UNKNOWN_NOT_POLICY);

  /**
   * By place in the document. The validator walks some sets in no fixed order, so ties are broken
   * by all that is left.
   */
  private static final Comparator<ValidationMessage> ORDER =
      Comparator.comparingInt(ValidationMessage::getLine)
          .thenComparingInt(ValidationMessage::getCol)
          .thenComparing(Findings::severity)
          .thenComparing(Findings::location)
          .thenComparing(ValidationMessage::getMessage);

  private Findings() {}

  static List<Finding> of(List<ValidationMessage> messages) {
    return messages.stream()
        .filter(message -> !ABOUT_DEFINITIONS.equals(id(message)))
        .sorted(ORDER)
        .map(Findings::finding)
        .distinct()
        .toList();
  }

  static Finding unknownProfile(String profile) {
    String message = "The profile '" + profile + "' is not known here; expected one that is.";
    return new Finding(Severity.ERROR, "not-found", "", message);
  }

  private static Finding finding(ValidationMessage message) {
    String code = message.getType() == null ? "processing" : message.getType().toCode();
    return new Finding(severity(message), code, location(message), message.getMessage());
  }

  private static Severity severity(ValidationMessage message) {
    return switch (message.getLevel()) {
      case FATAL -> Severity.FATAL;
      case ERROR -> Severity.ERROR;
      // A resource that claims a profile which nobody can check does not pass.
      case WARNING -> UNKNOWN_PROFILE.contains(id(message)) ? Severity.ERROR : Severity.WARNING;
      default -> Severity.INFORMATION;
    };
  }

  private static String id(ValidationMessage message) {
    return message.getMessageId() == null ? "" : message.getMessageId();
  }

  private static String location(ValidationMessage message) {
    return message.getLocation() == null ? "" : message.getLocation();
  }
}
