package indwell.port;

import java.time.Instant;
import java.util.Optional;

/**
 * That somebody did something, or was refused it: a row of the audit trail, after the profiles of
 * IHE Basic Audit Log Patterns (from memory). It names what it was about and says nothing of it: no
 * parameter of a search, no body, no token.
 *
 * @param at when the answer was ready
 * @param agent who asked
 * @param address network address that it was asked from
 * @param action what was done, whether it was granted or not
 * @param interaction method and place, {@code GET Patient}, as the route has it
 * @param entity what it was about, relative ({@code Procedure/x}); empty for more than one thing
 * @param patient id of the Patient, where the request names one
 * @param status HTTP status of the answer
 */
public record AuditEntry(
    Instant at,
    Agent agent,
    String address,
    Action action,
    String interaction,
    Optional<String> entity,
    Optional<String> patient,
    int status) {

  /**
   * Who asked.
   *
   * @param kind how far it is known who that is
   * @param client the program; empty where it is not known
   * @param user the person; empty for a program on its own
   */
  public record Agent(Kind kind, String client, Optional<String> user) {}

  /** How far it is known who asked. */
  public enum Kind {
    /** Somebody whom the issuer vouches for. */
    KNOWN,
    /** Somebody on this machine, in development mode. */
    DEVELOPMENT,
    /** Somebody whom nobody vouches for. */
    NOBODY
  }

  /** DICOM audit event actions, as FHIR has them (audit-event-action). */
  public enum Action {
    CREATE("C"),
    READ("R"),
    UPDATE("U"),
    DELETE("D"),
    EXECUTE("E");

    private final String code;

    Action(String code) {
      this.code = code;
    }

    /** The code in an AuditEvent. */
    public String code() {
      return code;
    }
  }

  /**
   * The code of FHIR's audit-event-outcome: success, minor failure (theirs), serious one (ours).
   */
  public String outcome() {
    return status < 400 ? "0" : status < 500 ? "4" : "8";
  }
}
