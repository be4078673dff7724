package indwell.usecase.transaction;

import indwell.domain.event.EventKey;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Systems;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Property;
import org.hl7.fhir.r4.model.Resource;

/** The business identifiers of a resource, and the one of them that counts. */
final class SentIdentifiers {
  private SentIdentifiers() {}

  /** Those with both a system and a value, in their order. */
  static List<Token> of(Resource resource) {
    Property identifiers = resource.getNamedProperty("identifier");
    if (identifiers == null) {
      return List.of();
    }
    return identifiers.getValues().stream()
        .map(Identifier.class::cast)
        .flatMap(one -> Token.of(one).stream())
        .toList();
  }

  /** The one that counts of a stored resource, which has no other. */
  static Optional<Token> ofStored(Resource resource) {
    return of(resource).stream().findFirst();
  }

  static Token first(Sent sent) {
    return of(sent.resource()).stream().findFirst().orElseThrow(() -> missing(sent));
  }

  /** The one of a system of ours, else the first. */
  static Token preferring(Sent sent, String system) {
    return of(sent.resource()).stream()
        .filter(token -> token.system().equals(system))
        .findFirst()
        .orElseGet(() -> first(sent));
  }

  /** The event that a main resource makes. */
  static EventKey event(Sent sent) {
    Token token = preferring(sent, Systems.EVENT);
    if (!token.name().isEmpty()) {
      throw unreadable(sent, token);
    }
    try {
      return token.event(sent.resource().fhirType());
    } catch (IllegalArgumentException unreadable) {
      throw unreadable(sent, token);
    }
  }

  private static Refused unreadable(Sent sent, Token token) {
    return sent.entry()
        .refused(
            422,
            IssueCode.NO_IDENTIFIER,
            "resource.identifier",
            "Identifier "
                + Words.shown(token.value())
                + " names no event; expected source:eventId in the system "
                + Systems.EVENT
                + ".");
  }

  /** Refuses an identifier of another event than the one that the resource belongs to. */
  static void requireSameEvent(Sent sent, EventKey event) {
    Stream<Token> named = of(sent.resource()).stream().filter(Token::isEvent);
    boolean isOther =
        named.anyMatch(
            token ->
                !token.value().equals(event.token())
                    && !token.value().startsWith(event.token() + "#"));
    if (isOther) {
      throw sent.entry()
          .refused(
              422,
              IssueCode.CONTRADICTS_EVENTS,
              "resource.identifier",
              "The identifier names another event than the Procedure that the resource belongs to;"
                  + " expected "
                  + Words.shown(EventIdentifier.of(event).getValue())
                  + ".");
    }
  }

  private static Refused missing(Sent sent) {
    return sent.entry()
        .refused(
            422,
            IssueCode.NO_IDENTIFIER,
            "resource.identifier",
            "The resource has no identifier with system and value; expected one, for an event"
                + " source:eventId in the system "
                + Systems.EVENT
                + ".");
  }
}
