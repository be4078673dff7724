package indwell.fhir.term;

import indwell.domain.event.EventKey;
import org.hl7.fhir.r4.model.Identifier;

/**
 * The identifier of what an event made: system {@link Systems#EVENT}, value {@code source:eventId},
 * for further resources of one type with {@code #} and a name behind it. Neither a source nor an
 * event id can hold a {@code #}, nor a source a colon, so that the value can be read back.
 */
public final class EventIdentifier {
  /** Name of the observation of what drained at the insertion. */
  public static final String INITIAL_DRAINAGE = "initial-drainage";

  /** Name of the observation of urine by weight and time. */
  public static final String RATE = "rate";

  private static final String NONE = "";

  private EventIdentifier() {}

  /** Of the first resource of its type that the event makes. */
  public static Identifier of(EventKey key) {
    return of(key, NONE);
  }

  /** Of a further one; an empty name stands for the first. */
  public static Identifier of(EventKey key, String name) {
    String value = name.isEmpty() ? key.token() : key.token() + "#" + name;
    return new Identifier().setSystem(Systems.EVENT).setValue(value);
  }

  /**
   * Reads the event back, whatever name stands behind it.
   *
   * @throws IllegalArgumentException if it is no identifier of an event
   */
  public static EventKey read(Identifier identifier) {
    String value = identifier.getValue() == null ? "" : identifier.getValue();
    int colon = value.indexOf(':');
    if (!Systems.EVENT.equals(identifier.getSystem()) || colon < 0) {
      throw new IllegalArgumentException(
          "Identifier " + identifier.getSystem() + "|" + value + " is not that of an event.");
    }
    int hash = value.indexOf('#');
    String eventId = value.substring(colon + 1, hash < 0 ? value.length() : hash);
    return new EventKey(value.substring(0, colon), eventId);
  }
}
