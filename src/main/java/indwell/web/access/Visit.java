package indwell.web.access;

import indwell.access.Caller;
import indwell.access.Role;
import indwell.domain.refusal.IssueCode;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Agent;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditEntry.Origin;
import indwell.usecase.audit.AuditTrail;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.ext.web.RoutingContext;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Map.Entry;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * One request from its first byte to its answer: who asks, and what the audit trail is told of it.
 * A visit leaves a row, or those that were written together with what it wrote.
 */
public final class Visit {
  private static final String KEY = Visit.class.getName();

  /** Characters of a name that an issuer gives. */
  private static final int MOST = 256;

  private static final int TOO_MANY = 429;

  private volatile Supplier<Caller> caller;
  private final String address;
  private final Place place;
  private final AuditTrail trail;
  private final List<Entry<String, String>> parameters = new ArrayList<>();
  private volatile Optional<Interaction> did = Optional.empty();
  private volatile Optional<String> patient = Optional.empty();
  private volatile Optional<IssueCode> reason = Optional.empty();
  private volatile boolean written;
  private volatile boolean open;
  private boolean over;

  private Visit(Supplier<Caller> caller, String address, Place place, AuditTrail trail) {
    this.caller = caller;
    this.address = address;
    this.place = place;
    this.trail = trail;
  }

  /** The visit that a request is; one of which nobody hears unless it has begun. */
  public static Visit of(RoutingContext context) {
    return context.get(KEY) instanceof Visit visit ? visit : begin(context, AuditTrail.NONE);
  }

  /** Begins one. */
  static Visit begin(RoutingContext context, AuditTrail trail) {
    HttpServerRequest request = context.request();
    Visit visit =
        new Visit(
            () -> Callers.of(context),
            request.remoteAddress().hostAddress(),
            Place.of(request.method().name(), request.path()),
            trail);
    visit.asked(parameters(request));
    context.put(KEY, visit);
    return visit;
  }

  /** Those of the address; none where it cannot be read, which is refused later. */
  private static Iterable<Entry<String, String>> parameters(HttpServerRequest request) {
    try {
      return request.params();
    } catch (IllegalArgumentException undecodable) {
      return List.of();
    }
  }

  /** One that no request is, and of which nobody hears. */
  public static Visit by(Caller caller) {
    return new Visit(() -> caller, "", Place.of("GET", "/"), AuditTrail.NONE);
  }

  /** Who asks. */
  public Caller caller() {
    return caller.get();
  }

  /** Who asks, from where, and by which request, for rows that are written with what they tell. */
  public Origin origin() {
    return new Origin(agent(caller()), address, place.text());
  }

  private static Agent agent(Caller caller) {
    if (caller instanceof Caller.Known known) {
      return new Agent(
          Kind.KNOWN,
          plain(known.client()),
          known.user().map(Visit::plain),
          known.roles().stream().sorted().map(Role::code).toList());
    }
    Kind kind = caller instanceof Caller.Development ? Kind.DEVELOPMENT : Kind.NOBODY;
    return new Agent(kind, "", Optional.empty(), List.of());
  }

  /** Whatever an issuer puts into a token has to go into any database, and back into JSON. */
  private static String plain(String text) {
    String visible = text.replaceAll("\\p{Cntrl}", "?");
    return visible.substring(0, Math.min(visible.length(), MOST));
  }

  /** Adds parameters that do not stand in the address. */
  public void asked(Iterable<Entry<String, String>> more) {
    more.forEach(parameters::add);
  }

  /** Says what it turned out to be. */
  public void did(Interaction interaction) {
    did = Optional.of(interaction);
  }

  /** Says whom it turned out to be about: the id of a Patient. */
  public void about(String patientId) {
    patient = Optional.of(patientId);
  }

  /** Says why the caller was not let in, to all of it or to a part. */
  public void refused(IssueCode code) {
    reason = Optional.of(code);
  }

  /** Says who turned out to ask, after all. */
  void letIn(Caller person) {
    caller = () -> person;
    reason = Optional.empty();
  }

  /** Says that rows were written together with what they tell, so that no other is needed. */
  public void written() {
    written = true;
  }

  /** Whether there is room for rows of parts. */
  public boolean hasRoom() {
    return trail.hasRoom();
  }

  /** Adds the row of a part of the request. */
  public void add(AuditEntry row) {
    trail.add(row);
  }

  /** A request within this one, which is to be ended by itself. */
  public Visit part(String method, String path, Iterable<Entry<String, String>> asked) {
    Visit part = new Visit(caller, address, Place.of(method, path), trail);
    part.asked(asked);
    return part;
  }

  /** Leaves the end to {@link #end}: the answer begins before all has been done. */
  public void stayOpen() {
    open = true;
  }

  /** The answer begins. */
  void answered(int status, Instant now) {
    if (!open) {
      end(status, now);
    }
  }

  /** Leaves the row, once, unless others were written for it, or it was too much to look at. */
  public void end(int status, Instant now) {
    if (over) {
      return;
    }
    over = true;
    if (!written && status != TOO_MANY) {
      add(
          new AuditEntry(
              now.truncatedTo(ChronoUnit.MILLIS),
              origin(),
              did.orElse(place.interaction()),
              place.entity(status),
              patient.or(() -> place.patient(status)).or(() -> Place.patient(parameters)),
              Place.query(parameters),
              status,
              reason.map(IssueCode::code)));
    }
  }
}
