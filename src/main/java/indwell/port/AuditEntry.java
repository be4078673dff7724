package indwell.port;

import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * That somebody did something, or was refused it: a row of the audit trail, after the REST patterns
 * of IHE Basic Audit Log Patterns (from memory). It names what it was about and says nothing of it:
 * no body, no value that identifies anybody, no token.
 *
 * @param at when it was done or refused, to the millisecond
 * @param entity what it was about, relative ({@code Procedure/x}); empty for more than one thing
 * @param patient id of the Patient that it was about, where that is known
 * @param query names of the parameters, with the values of those that can name nobody
 * @param status HTTP status of the answer, or of this part of it
 * @param reason code of the refusal ({@code IND-0403}), where the caller was not let in
 */
public record AuditEntry(
    Instant at,
    Origin origin,
    Interaction interaction,
    Optional<String> entity,
    Optional<String> patient,
    String query,
    int status,
    Optional<String> reason) {

  /**
   * Who asked, from where, and by which request.
   *
   * @param address network address; empty for the service itself
   * @param place method and address as the route has it, {@code GET /fhir/Patient/{id}}
   */
  public record Origin(Agent agent, String address, String place) {
    /** The service itself, at work without being asked. */
    public static final Origin SERVICE =
        new Origin(new Agent(Kind.SERVICE, "", Optional.empty(), List.of()), "", "");
  }

  /**
   * Who asked.
   *
   * @param kind how far it is known who that is
   * @param client the program; empty where it is not known
   * @param user the person; empty for a program on its own
   * @param roles of the person, in their order
   */
  public record Agent(Kind kind, String client, Optional<String> user, List<String> roles) {
    public Agent {
      roles = List.copyOf(roles);
    }
  }

  /** How far it is known who asked. */
  public enum Kind {
    /** Somebody whom the issuer vouches for. */
    KNOWN,
    /** Somebody on this machine, in development mode. */
    DEVELOPMENT,
    /** Somebody whom nobody vouches for. */
    NOBODY,
    /** The service itself. */
    SERVICE
  }

  /** What was done, with the codes that FHIR has for it. */
  public enum Interaction {
    READ(Action.READ),
    VREAD(Action.READ),
    HISTORY_INSTANCE(Action.READ),
    HISTORY_TYPE(Action.READ),
    HISTORY_SYSTEM(Action.READ),
    SEARCH_TYPE(Action.EXECUTE),
    CREATE(Action.CREATE),
    UPDATE(Action.UPDATE),
    DELETE(Action.DELETE),
    TRANSACTION(Action.EXECUTE),
    BATCH(Action.EXECUTE),
    OPERATION(Action.EXECUTE),
    /** Something of ours that FHIR has no name for is read: a page, the state of publishing. */
    VIEW(Action.READ),
    LOGIN(Action.EXECUTE),
    LOGOUT(Action.EXECUTE);

    private static final String DICOM = "http://dicom.nema.org/resources/ontology/DCM";
    private static final String TYPES = "http://terminology.hl7.org/CodeSystem/audit-event-type";
    private static final String RESTFUL = "http://hl7.org/fhir/restful-interaction";

    private final Action action;

    Interaction(Action action) {
      this.action = action;
    }

    /** The DICOM action. */
    public Action action() {
      return action;
    }

    private boolean atTheDoor() {
      return this == LOGIN || this == LOGOUT;
    }

    /** The kind of thing that was done: code system, code and display. */
    public List<String> type() {
      return atTheDoor()
          ? List.of(DICOM, "110114", "User Authentication")
          : List.of(TYPES, "rest", "RESTful Operation");
    }

    /** What exactly: code system, code and display; empty where there is no code for it. */
    public List<String> subtype() {
      if (atTheDoor()) {
        return this == LOGIN
            ? List.of(DICOM, "110122", "Login")
            : List.of(DICOM, "110123", "Logout");
      }
      String code = name().toLowerCase(Locale.ROOT).replace('_', '-');
      return this == VIEW ? List.of() : List.of(RESTFUL, code, code);
    }

    /** What it can be found by. */
    public List<SearchValue> found() {
      List<SearchValue> values = new ArrayList<>();
      values.add(new Coded("action", Action.SYSTEM, action.code()));
      values.add(new Coded("type", type().get(0), type().get(1)));
      if (!subtype().isEmpty()) {
        values.add(new Coded("subtype", subtype().get(0), subtype().get(1)));
      }
      return values;
    }
  }

  /** DICOM audit event actions, as FHIR has them (audit-event-action). */
  public enum Action {
    CREATE("C"),
    READ("R"),
    UPDATE("U"),
    DELETE("D"),
    EXECUTE("E");

    private static final String SYSTEM = "http://hl7.org/fhir/audit-event-action";

    private final String code;

    Action(String code) {
      this.code = code;
    }

    /** The code in an AuditEvent. */
    public String code() {
      return code;
    }
  }

  /** How it ended, as FHIR has it (audit-event-outcome). */
  public enum Outcome {
    SUCCESS("0"),
    /** Theirs. */
    MINOR_FAILURE("4"),
    /** Ours. */
    SERIOUS_FAILURE("8");

    private static final String SYSTEM = "http://hl7.org/fhir/audit-event-outcome";

    private final String code;

    Outcome(String code) {
      this.code = code;
    }

    /** The code in an AuditEvent. */
    public String code() {
      return code;
    }

    /** What it can be found by. */
    public SearchValue value() {
      return new Coded("outcome", SYSTEM, code);
    }
  }

  /** The same when the answer was withheld; what had been refused before stays as it is. */
  public AuditEntry withheld(int instead, String why) {
    return status >= 400
        ? this
        : new AuditEntry(
            at, origin, interaction, entity, patient, query, instead, Optional.of(why));
  }

  /** How it ended: whoever was not let in somewhere has failed, whatever became of the rest. */
  public Outcome outcome() {
    if (status >= 500) {
      return Outcome.SERIOUS_FAILURE;
    }
    return status >= 400 || reason.isPresent() ? Outcome.MINOR_FAILURE : Outcome.SUCCESS;
  }

  /** What it can be found by, the patient aside. */
  public List<SearchValue> values() {
    List<SearchValue> values = new ArrayList<>(interaction.found());
    long moment = at.toEpochMilli();
    values.add(new Dated("date", moment, moment + 1));
    values.add(outcome().value());
    add(values, "altid", origin.agent().client());
    origin.agent().user().ifPresent(user -> add(values, "altid", user));
    add(values, "address", origin.address().toLowerCase(Locale.ROOT));
    entity.ifPresent(reference -> add(values, "entity", reference));
    patient.ifPresent(id -> add(values, "entity", "Patient/" + id));
    return values;
  }

  private static void add(List<SearchValue> values, String parameter, String text) {
    if (!text.isEmpty()) {
      values.add(new Coded(parameter, "", text));
    }
  }
}
