package indwell.adapter.validation;

import indwell.adapter.validation.Scene.Told;
import indwell.domain.refusal.Visible;
import indwell.port.ProfileValidator.Finding;
import indwell.port.ProfileValidator.Place;
import indwell.port.ProfileValidator.Rule;
import indwell.port.ProfileValidator.Severity;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.hl7.fhir.utilities.i18n.I18nConstants;
import org.hl7.fhir.utilities.validation.ValidationMessage;

/**
 * Turns the validator's messages into findings: sorts them, tells them in sentences that say what
 * was expected and which rule wants it. A message of a kind that is not known here is passed on in
 * the library's own words.
 */
final class Findings {
  /** Says that a binding names no value set: a fault of a definition, not of the resource. */
  private static final String ABOUT_DEFINITIONS = I18nConstants.TERMINOLOGY_TX_BINDING_NOSOURCE;

  private static final Set<String> UNKNOWN_PROFILE =
      Set.of(
          I18nConstants.VALIDATION_VAL_PROFILE_UNKNOWN,
          I18nConstants.VALIDATION_VAL_PROFILE_UNKNOWN_NOT_POLICY);

  /** The completion of a profile wants a package of its own, from the disk, which is forbidden. */
  private static final String NOT_COMPLETED = "Error generating Snapshot: Access to files is not";

  private static final List<Phrase> PHRASES =
      Stream.of(ProfilePhrases.ALL, CodePhrases.ALL, SyntaxPhrases.ALL)
          .flatMap(List::stream)
          .toList();

  /** No sentence of the library that is worth reading is longer. */
  private static final int LONGEST = 1_000;

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

  /** The messages that are about the resource, by their place in it. */
  static List<ValidationMessage> sorted(List<ValidationMessage> messages) {
    return messages.stream()
        .filter(message -> !ABOUT_DEFINITIONS.equals(id(message)))
        .sorted(ORDER)
        .toList();
  }

  /** The messages as findings, in their order. */
  static List<Finding> told(List<ValidationMessage> messages, Elements elements, Codes codes) {
    List<Finding> all =
        messages.stream().map(message -> finding(message, elements, codes)).distinct().toList();
    return all.stream().filter(one -> !isToldByBinding(one, all)).toList();
  }

  /** That a code is none of its system goes without saying where no other code may stand. */
  private static boolean isToldByBinding(Finding one, List<Finding> all) {
    return isAbout("code system", one)
        && one.code().equals("code-invalid")
        && all.stream()
            .anyMatch(
                other ->
                    other.isError()
                        && isAbout("binding", other)
                        && other.place().equals(one.place())
                        && other.expression().equals(one.expression()));
  }

  private static boolean isAbout(String kind, Finding finding) {
    return finding.rule().filter(rule -> rule.kind().equals(kind)).isPresent();
  }

  static Finding unknownProfile(String profile) {
    String message =
        "Profile %s is not known here; expected one of R4 or of Indwell."
            .formatted(Scene.quoted(profile));
    return new Finding(
        Severity.ERROR,
        "not-found",
        "",
        message,
        Optional.of(new Rule("profile", Visible.of(profile, LONGEST), "")),
        Optional.empty());
  }

  /** The sentence names what was thrown and not its message, which quotes what was sent. */
  static Finding notFinished(NotFinished failed) {
    String message =
        "The validator could not get through this resource (%s), so nothing more is said of it;"
                .formatted(Objects.requireNonNull(failed.getCause()).getClass().getSimpleName())
            + " expected references, codes and types in the forms of FHIR.";
    return new Finding(
        Severity.FATAL, "processing", "", message, Optional.empty(), Optional.empty());
  }

  /** The message as the library gives it, to compare it with. */
  static String line(ValidationMessage message) {
    return severity(message).code() + " | " + location(message) + " | " + message.getMessage();
  }

  private static Finding finding(ValidationMessage message, Elements elements, Codes codes) {
    String code = message.getType() == null ? "processing" : message.getType().toCode();
    Scene scene = new Scene(Location.of(location(message)), statedIn(message), elements, codes);
    Told told = told(message.getMessage(), scene);
    boolean completed = !message.getMessage().startsWith(NOT_COMPLETED);
    return new Finding(
        completed ? severity(message) : Severity.INFORMATION,
        code,
        Visible.of(scene.location().expression(), LONGEST),
        told.sentence(),
        told.rule(),
        place(message));
  }

  private static Told told(String message, Scene scene) {
    return PHRASES.stream()
        .flatMap(phrase -> phrase.tell(message, scene).stream())
        .findFirst()
        .orElseGet(() -> new Told(Visible.of(message, LONGEST), Optional.empty()));
  }

  private static Optional<Place> place(ValidationMessage message) {
    return message.getLine() < 1 || message.getCol() < 1
        ? Optional.empty()
        : Optional.of(new Place(message.getLine(), message.getCol()));
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

  /** An invariant is known by its home and its key, parted by a hash. */
  private static String statedIn(ValidationMessage message) {
    String invariant = message.getInvId();
    return invariant == null ? "" : invariant.substring(0, Math.max(0, invariant.indexOf('#')));
  }

  private static String location(ValidationMessage message) {
    return message.getLocation() == null ? "" : message.getLocation();
  }
}
