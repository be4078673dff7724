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
import indwell.web.BeforeAnswer;
import indwell.web.HttpAnswer;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.ext.web.RoutingContext;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Map.Entry;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionStage;
import java.util.function.IntPredicate;
import java.util.function.Supplier;

/**
 * One request from its first byte to its answer: who asks, and what the audit trail is told of it.
 * A visit leaves a row, or those that were written together with what it wrote. Its answer leaves
 * when its rows are durable; where they cannot be written nothing is disclosed, but a refusal is
 * answered all the same.
 */
public final class Visit implements BeforeAnswer {
  private static final String KEY = Visit.class.getName();

  /** Characters of a name that an issuer gives. */
  private static final int MOST = 256;

  private static final int TOO_MANY = 429;

  private volatile Supplier<Caller> caller;
  private final String address;
  private final String path;
  private final Place place;
  private final Told told;
  private final List<Entry<String, String>> parameters = new ArrayList<>();
  private volatile Optional<Interaction> did = Optional.empty();
  private volatile Optional<String> patient = Optional.empty();
  private volatile Optional<IssueCode> reason = Optional.empty();
  private volatile boolean written;
  private volatile boolean open;
  private boolean over;

  /**
   * Who is told, of this and of what is part of it.
   *
   * @param seldom statuses of answers that leave no row
   * @param rows that were not handed over yet
   */
  private record Told(AuditTrail trail, Clock clock, IntPredicate seldom, List<AuditEntry> rows) {
    private Told(AuditTrail trail, Clock clock, IntPredicate seldom) {
      this(trail, clock, seldom, new ArrayList<>());
    }

    private static Told nobody() {
      return new Told(AuditTrail.NONE, Clock.fixed(Instant.EPOCH, ZoneOffset.UTC), status -> true);
    }

    private void add(AuditEntry row) {
      synchronized (rows) {
        rows.add(row);
      }
    }

    private List<AuditEntry> take() {
      synchronized (rows) {
        List<AuditEntry> taken = List.copyOf(rows);
        rows.clear();
        return taken;
      }
    }
  }

  private Visit(Supplier<Caller> caller, String address, String path, Place place, Told told) {
    this.caller = caller;
    this.address = address;
    this.path = path;
    this.place = place;
    this.told = told;
  }

  /** The visit that a request is; one of which nobody hears unless it has begun. */
  public static Visit of(RoutingContext context) {
    return context.get(KEY) instanceof Visit visit ? visit : begin(context, Told.nobody());
  }

  /**
   * Begins one.
   *
   * @param seldom statuses of answers that leave no row
   */
  static Visit begin(RoutingContext context, AuditTrail trail, Clock clock, IntPredicate seldom) {
    return begin(context, new Told(trail, clock, seldom));
  }

  private static Visit begin(RoutingContext context, Told told) {
    HttpServerRequest request = context.request();
    Visit visit =
        new Visit(
            () -> Callers.of(context),
            request.remoteAddress().hostAddress(),
            request.path(),
            Place.of(request.method().name(), request.path()),
            told);
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
    return new Visit(() -> caller, "", "/", Place.of("GET", "/"), Told.nobody());
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
    return told.trail().hasRoom();
  }

  /** Adds the row of a part of the request, which is handed over with the answer. */
  public void add(AuditEntry row) {
    told.add(row);
  }

  /** A request within this one, which is to be ended by itself. */
  public Visit part(String method, String path, Iterable<Entry<String, String>> asked) {
    Visit part = new Visit(caller, address, path, Place.of(method, path), told);
    part.asked(asked);
    return part;
  }

  /** Leaves the end to {@link #end}: the answer begins before all has been done. */
  public void stayOpen() {
    open = true;
  }

  /**
   * Hands over the rows, that of the request among them unless others were written for it.
   *
   * @return the answer once they are durable; another one where that cannot be for now, unless it
   *     refuses, which tells nobody anything that they should not know
   */
  @Override
  public CompletionStage<HttpAnswer> leaving(HttpAnswer answer) {
    answered(answer.status());
    List<AuditEntry> rows = told.take();
    if (rows.isEmpty()) {
      return CompletableFuture.completedStage(answer);
    }
    if (refuses(answer.status())) {
      return told.trail().keep(rows, rows).thenApply(either -> answer);
    }
    Denial denial = NotAudited.withheld();
    List<AuditEntry> withheld =
        rows.stream()
            .map(row -> row.withheld(denial.status(), denial.issue().code().code()))
            .toList();
    return told.trail()
        .keep(rows, withheld)
        .thenApply(kept -> kept ? answer : DenialAnswers.at(path, denial));
  }

  /** Whoever is sent to the login is refused as well. */
  private boolean refuses(int status) {
    return status >= 400 || (status >= 300 && reason.isPresent());
  }

  /** The answer begins, whoever gives it; rows that nobody waited for are handed over. */
  void begun(int status) {
    answered(status);
    CompletionStage<Boolean> unused = flush();
  }

  private void answered(int status) {
    if (!open && !told.seldom().test(status)) {
      end(status, told.clock().instant());
    }
  }

  /** Hands over the rows so far, of an answer that leaves piece by piece; says whether kept. */
  public CompletionStage<Boolean> flush() {
    List<AuditEntry> rows = told.take();
    return rows.isEmpty() ? CompletableFuture.completedStage(true) : told.trail().keep(rows, rows);
  }

  /** Leaves the row, once, unless others were written for it, or it was too much to look at. */
  public void end(int status, Instant now) {
    if (over) {
      return;
    }
    over = true;
    if (!written && status != TOO_MANY) {
      add(row(status, now));
    }
  }

  /**
   * The row of this request as it is known now, for who writes it together with what it tells and
   * says so ({@link #written}).
   *
   * @param status of the answer
   */
  public AuditEntry row(int status) {
    return row(status, told.clock().instant());
  }

  private AuditEntry row(int status, Instant now) {
    // Whoever is sent to the login has found nothing either.
    int found = refuses(status) ? Math.max(status, 400) : status;
    return new AuditEntry(
        now.truncatedTo(ChronoUnit.MILLIS),
        origin(),
        did.orElse(place.interaction()),
        place.entity(found),
        patient.or(() -> place.patient(found)).or(() -> Place.patient(parameters)),
        Place.query(parameters),
        status,
        reason.map(IssueCode::code));
  }
}
