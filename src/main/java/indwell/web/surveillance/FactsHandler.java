package indwell.web.surveillance;

import indwell.domain.refusal.IssueCode;
import indwell.domain.surveillance.WardMonth;
import indwell.intake.FactsBodies;
import indwell.intake.FactsBody;
import indwell.intake.FactsReading;
import indwell.intake.FactsResult;
import indwell.intake.FactsResultJson;
import indwell.intake.FactsTableReader;
import indwell.intake.FactsText;
import indwell.port.StoredFacts;
import indwell.port.SurveillanceFacts;
import indwell.port.SurveillanceFacts.Change;
import indwell.port.SurveillanceFacts.Recorded;
import indwell.usecase.KeepFacts;
import indwell.web.HttpAnswer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import java.util.function.Function;
import java.util.stream.Collectors;

/** Answers requests about facts; waits for the store. */
final class FactsHandler {
  private static final String CSV = "text/csv";

  private final KeepFacts facts;

  FactsHandler(KeepFacts facts) {
    this.facts = facts;
  }

  HttpAnswer answer(SurveillanceRequest request) {
    List<String> path = request.path();
    if (path.isEmpty()) {
      return request.method().equals("POST")
          ? post(request)
          : SurveillanceAnswers.wrongMethod("POST");
    }
    boolean versions = path.size() == 3 && path.get(2).equals("versions");
    if (path.size() != 2 && !versions) {
      return SurveillanceAnswers.unknownPath();
    }
    FactsReading address = FactsBodies.address(path.get(0), path.get(1));
    if (address instanceof FactsReading.Refused refused) {
      return SurveillanceAnswers.refused(400, refused.issues());
    }
    WardMonth month = ((FactsReading.Accepted) address).month();
    return switch (request.method()) {
      case "GET" -> versions ? versions(month) : newest(month);
      case "PUT" -> versions ? SurveillanceAnswers.wrongMethod("GET, HEAD") : put(request, month);
      default -> SurveillanceAnswers.wrongMethod(versions ? "GET, HEAD" : "GET, HEAD, PUT");
    };
  }

  private HttpAnswer newest(WardMonth month) {
    return facts
        .newest(month)
        .map(
            found ->
                SurveillanceAnswers.json(200, bytes(FactsText.withPlace(month, found.canonical())))
                    .with("ETag", IfMatch.tag(found.version())))
        .orElseGet(() -> unknown(month));
  }

  private HttpAnswer versions(WardMonth month) {
    List<StoredFacts> all = facts.versions(month);
    return all.isEmpty()
        ? unknown(month)
        : SurveillanceAnswers.json(
            200,
            bytes(
                all.stream()
                    .map(FactsHandler::version)
                    .collect(Collectors.joining(",", "[", "]"))));
  }

  private static String version(StoredFacts stored) {
    return "{\"version\":"
        + stored.version()
        + ",\"recordedAt\":\""
        + stored.recordedAt()
        + "\",\"facts\":"
        + FactsText.withPlace(stored.month(), stored.canonical())
        + "}";
  }

  private static HttpAnswer unknown(WardMonth month) {
    return SurveillanceAnswers.refused(
        404,
        IssueCode.FACTS_NOT_FOUND,
        "Ward "
            + month.ward().code()
            + " has no facts of "
            + month.month()
            + "; expected a ward and month that facts were sent for.");
  }

  private HttpAnswer put(SurveillanceRequest request, WardMonth month) {
    if (!request.sentAs(SurveillanceAnswers.JSON)) {
      return SurveillanceAnswers.mediaType(SurveillanceAnswers.JSON);
    }
    FactsBody body = FactsBodies.object(request.body(), month, facts.today(request.now()));
    return ifAccepted(body, accepted -> put(request, month, accepted));
  }

  private HttpAnswer put(
      SurveillanceRequest request, WardMonth month, List<FactsReading.Accepted> accepted) {
    OptionalInt ifVersion = OptionalInt.empty();
    if (request.ifMatch().isPresent()) {
      ifVersion = facts.newest(month).stream().mapToInt(StoredFacts::version).findFirst();
      if (!IfMatch.names(request.ifMatch().get(), ifVersion)) {
        return stale(month, ifVersion);
      }
    }
    Recorded recorded = record(request, accepted, ifVersion).get(0);
    if (recorded.change() == Change.STALE) {
      return stale(month, recorded.newest().stream().mapToInt(StoredFacts::version).findFirst());
    }
    return SurveillanceAnswers.of(status(request, recorded.change()), result(recorded))
        .with("ETag", IfMatch.tag(recorded.newest().orElseThrow().version()));
  }

  /** Takes them together with the row of the request; of what changed nothing the row follows. */
  private List<Recorded> record(
      SurveillanceRequest request, List<FactsReading.Accepted> accepted, OptionalInt ifVersion) {
    List<Recorded> all =
        facts.record(
            accepted,
            ifVersion,
            request.now(),
            taken -> List.of(request.visit().row(status(request, taken.get(0).change()))));
    if (SurveillanceFacts.wrote(all)) {
      request.visit().written();
    }
    return all;
  }

  private static int status(SurveillanceRequest request, Change change) {
    return request.method().equals("PUT") && change == Change.CREATED ? 201 : 200;
  }

  private static HttpAnswer stale(WardMonth month, OptionalInt newest) {
    return SurveillanceAnswers.refused(
        412,
        IssueCode.STALE_VERSION,
        "The If-Match is not the version of ward "
            + month.ward().code()
            + " in "
            + month.month()
            + "; expected "
            + (newest.isEmpty() ? "none, as it has none" : IfMatch.tag(newest.getAsInt()))
            + ".");
  }

  private HttpAnswer post(SurveillanceRequest request) {
    if (request.sentAs(CSV)) {
      return ifAccepted(
          FactsTableReader.read(request.body(), facts.today(request.now())),
          accepted -> all(request, accepted));
    }
    return request.sentAs(SurveillanceAnswers.JSON)
        ? ifAccepted(
            FactsBodies.array(request.body(), facts.today(request.now())),
            accepted -> all(request, accepted))
        : SurveillanceAnswers.mediaType(SurveillanceAnswers.JSON + " or " + CSV);
  }

  private HttpAnswer all(SurveillanceRequest request, List<FactsReading.Accepted> accepted) {
    List<FactsResult> results = new ArrayList<>();
    record(request, accepted, OptionalInt.empty())
        .forEach(recorded -> results.add(result(recorded)));
    return SurveillanceAnswers.json(200, FactsResultJson.array(results));
  }

  private static FactsResult result(Recorded recorded) {
    StoredFacts newest = recorded.newest().orElseThrow();
    return FactsResult.of(newest.month(), newest.version(), recorded.change() != Change.UNCHANGED);
  }

  private static HttpAnswer ifAccepted(
      FactsBody body, Function<List<FactsReading.Accepted>, HttpAnswer> then) {
    if (body instanceof FactsBody.Rejected rejected) {
      return SurveillanceAnswers.refused(rejected.status(), rejected.issues());
    }
    return then.apply(((FactsBody.Accepted) body).facts());
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }
}
