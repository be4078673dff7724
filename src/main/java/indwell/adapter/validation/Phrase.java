package indwell.adapter.validation;

import indwell.adapter.validation.Scene.Told;
import java.util.Optional;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A kind of message of the library, known by its words, and how it is told here. The library keeps
 * the parts of a message nowhere but in its text.
 */
record Phrase(Pattern words, Teller teller) {
  /** Tells a message anew out of the parts that its words have. */
  @FunctionalInterface
  interface Teller {
    Told tell(MatchResult parts, Scene scene);
  }

  static Phrase of(String words, Teller teller) {
    return new Phrase(Pattern.compile(words, Pattern.DOTALL), teller);
  }

  Optional<Told> tell(String message, Scene scene) {
    Matcher parts = words.matcher(message);
    return parts.matches() ? Optional.of(teller.tell(parts, scene)) : Optional.empty();
  }
}
