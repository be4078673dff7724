package indwell.usecase.transaction;

import indwell.domain.event.EventKey;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Ids;
import indwell.fhir.term.Systems;
import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import org.hl7.fhir.r4.model.Identifier;

/**
 * A business identifier with both its parts.
 *
 * @param system an absolute URI
 */
record Token(String system, String value) {
  private static final String PARAMETER = "identifier=";

  /** The source of events that resources make which name none. */
  private static final String SOURCE = "fhir";

  static Optional<Token> of(Identifier identifier) {
    return identifier.hasSystem() && identifier.hasValue()
        ? Optional.of(new Token(identifier.getSystem(), identifier.getValue()))
        : Optional.empty();
  }

  /**
   * Reads the query {@code identifier=system|value}, percent-encoded or not.
   *
   * @return empty for any other query
   */
  static Optional<Token> ofQuery(String query) {
    if (!query.startsWith(PARAMETER) || query.indexOf('&') >= 0) {
      return Optional.empty();
    }
    String value;
    try {
      value = URLDecoder.decode(query.substring(PARAMETER.length()), StandardCharsets.UTF_8);
    } catch (IllegalArgumentException broken) {
      return Optional.empty();
    }
    if (value.indexOf(0) >= 0) {
      return Optional.empty();
    }
    int bar = value.indexOf('|');
    boolean isList = value.replace("\\,", "").indexOf(',') >= 0;
    return bar <= 0 || bar == value.length() - 1 || isList
        ? Optional.empty()
        : Optional.of(new Token(value.substring(0, bar), unescaped(value.substring(bar + 1))));
  }

  /** FHIR R4, search.html#escaping. */
  private static String unescaped(String value) {
    return value.replaceAll("\\\\([\\\\,$|])", "$1");
  }

  boolean isEvent() {
    return system.equals(Systems.EVENT);
  }

  /**
   * The event that a resource of that type with this identifier makes: the one that it names, else
   * one derived from it.
   *
   * @throws IllegalArgumentException if it names an event in a way that cannot be read
   */
  EventKey event(String type) {
    return isEvent()
        ? EventIdentifier.read(new Identifier().setSystem(system).setValue(value))
        : new EventKey(SOURCE, Ids.derive("Event", type, system, value));
  }

  /** The name behind the event, or nothing. */
  String name() {
    int hash = isEvent() ? value.indexOf('#') : -1;
    return hash < 0 ? "" : value.substring(hash + 1);
  }

  /** As a search finds it. */
  String text() {
    return system + "|" + value;
  }
}
