package indwell.web.ward;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.ResourceId;
import indwell.usecase.Asked;
import indwell.usecase.EnterAtBedside;
import indwell.usecase.EnterAtBedside.Entered;
import indwell.usecase.EnterAtBedside.Form;
import indwell.usecase.Facility;
import indwell.usecase.WardBoard;
import indwell.usecase.WardBoard.Board;
import indwell.usecase.WardBoard.Question;
import indwell.web.HttpAnswer;
import indwell.web.page.Browsers;
import indwell.web.page.Browsers.Browser;
import indwell.web.page.FormSeal;
import indwell.web.page.FormText;
import indwell.web.page.Frame;
import indwell.web.page.Moments;
import indwell.web.page.PageAnswers;
import indwell.web.page.PageRefusal;
import indwell.web.page.PageRequest;
import indwell.web.page.PageServer;
import indwell.web.page.Recorders;
import indwell.web.page.Templates;
import indwell.web.page.TypedRecorder;
import indwell.web.page.Words;
import indwell.web.ward.BoardView.Recording;
import indwell.web.ward.BoardView.TakeBack;
import indwell.web.ward.BoardView.Told;
import io.vertx.ext.web.Router;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/**
 * The page that a ward reads on its round: who has a catheter, since when, why, and what is due;
 * and the three things most often recorded on a round.
 */
@ApplicationScoped
public class WardPage {
  private static final String TOLD = "recorded";

  private final PageServer server;
  private final WardBoard board;
  private final EnterAtBedside bedside;
  private final Moments moments;
  private final BoardViews views;
  private final Templates templates = new Templates();
  private final Browsers browsers;
  private final Recorders recorders;
  private final EntryForms forms;

  /** The pages over that board. */
  @Inject
  public WardPage(
      PageServer server,
      WardBoard board,
      EnterAtBedside bedside,
      FormSeal seal,
      Recorders recorders,
      Facility facility) {
    this.server = server;
    this.board = board;
    this.bedside = bedside;
    this.moments = new Moments(facility.calendar());
    this.views = new BoardViews(moments);
    this.browsers = new Browsers(seal);
    this.recorders = recorders;
    this.forms = new EntryForms(browsers, recorders);
  }

  /** Puts the pages on their paths. */
  public void register(@Observes Router router) {
    router.route("/").handler(server.reading(this::house));
    router.route("/wards/:ward").handler(server.reading(this::page));
    for (String place : List.of("", "/wards/:ward")) {
      router.route(place + "/" + EntryForms.RECORD).handler(server.taking(this::enter));
      router.route(place + "/" + EntryForms.TAKE_BACK).handler(server.taking(this::takeBack));
      router.route(place + "/recorder").handler(server.taking(this::sayWho));
    }
  }

  /** Addresses once had the ward as a parameter. */
  private HttpAnswer house(PageRequest request) {
    List<String> ward = request.values("ward");
    return ward.size() == 1
        ? PageAnswers.seeOther("/wards/" + FormText.encode(ward.get(0)))
        : page(request);
  }

  private HttpAnswer page(PageRequest request) {
    Set<String> known = new TreeSet<>(BoardFilter.PARAMETERS);
    known.add(TOLD);
    request.allowOnly(known);
    BoardFilter filter = BoardFilter.of(request);
    Board found = answered(board.at(new Question(filter.ward(), filter.ahead()), request.now()));
    Browser browser = browsers.of(request);
    BoardView view =
        views.view(
            found,
            filter,
            recording(request, browser, filter),
            told(request, browser, filter),
            subject -> browsers.seal(browser, subject, request));
    String title = filter.ward().map(ward -> ward.code() + ": ").orElse("") + "urinary catheters";
    Frame frame = Frame.of(title, "wards", moments, request);
    return browser.told(PageAnswers.html(200, templates.render("ward/board", frame, view)));
  }

  private Recording recording(PageRequest request, Browser browser, BoardFilter filter) {
    return new Recording(
        recorders.of(request).map(BusinessId::value).orElse(""),
        recorders.verified(),
        filter.formAddress("recorder"),
        browsers.seal(browser, EntryForms.aboutRecorder(), request));
  }

  private List<Told> told(PageRequest request, Browser browser, BoardFilter filter) {
    return request.value(TOLD).flatMap(bedside::find).stream()
        .map(entered -> told(entered, request, browser, filter))
        .toList();
  }

  private Told told(Entered entered, PageRequest request, Browser browser, BoardFilter filter) {
    Optional<BedsideEvent> event = entered.event();
    String eventId = entered.key().eventId();
    return new Told(
        event.map(WardPage::what).orElseGet(() -> Words.of(entered.type())),
        event.map(one -> one.patient().value()).orElse(""),
        moments.near(event.map(BedsideEvent::at).orElse(request.now()), request.now()),
        event.flatMap(one -> one.envelope().recorder()).map(BusinessId::value).orElse(""),
        entered.key().token(),
        entered.version(),
        event.isEmpty(),
        event.stream()
            .map(
                one ->
                    new TakeBack(
                        filter.formAddress(EntryForms.TAKE_BACK),
                        browsers.seal(browser, EntryForms.aboutEntry(eventId), request),
                        eventId))
            .toList());
  }

  private static String what(BedsideEvent event) {
    return event instanceof NeedReview review
        ? Words.of(event.type()) + ": " + (review.stillNeeded() ? "still needed" : "not needed")
        : Words.of(event.type());
  }

  private HttpAnswer enter(PageRequest request) {
    Form form = forms.entry(request);
    BoardFilter filter = BoardFilter.of(request);
    Entered entered = answered(bedside.enter(form, request.now(), request.visit().origin()));
    String anchor =
        entered
            .event()
            .map(event -> "#c-" + ResourceId.device(event.patient(), form.catheter()).id())
            .orElse("");
    return backTo(filter, entered, anchor);
  }

  private HttpAnswer takeBack(PageRequest request) {
    String eventId = request.requiredField("event");
    browsers.taken(request, EntryForms.aboutEntry(eventId));
    BoardFilter filter = BoardFilter.of(request);
    BusinessId recorder = recorders.of(request).orElseThrow(EntryForms::nobody);
    return backTo(
        filter,
        answered(bedside.takeBack(eventId, recorder, request.now(), request.visit().origin())),
        "");
  }

  private static HttpAnswer backTo(BoardFilter filter, Entered entered, String anchor) {
    String address = filter.address();
    String told = TOLD + "=" + FormText.encode(entered.key().eventId());
    return PageAnswers.seeOther(address + (address.contains("?") ? "&" : "?") + told + anchor);
  }

  private HttpAnswer sayWho(PageRequest request) {
    browsers.taken(request, EntryForms.aboutRecorder());
    if (recorders.verified()) {
      throw PageRefusal.of(
          IssueCode.NOT_FOUND, "Who records is told by the login; expected no form that says it.");
    }
    BoardFilter filter = BoardFilter.of(request);
    return PageAnswers.seeOther(filter.address())
        .with("Set-Cookie", TypedRecorder.cookie(request.requiredField("staffNumber")));
  }

  private static <T> T answered(Asked<T> asked) {
    return asked.fold(
        value -> value,
        issue -> {
          throw PageRefusal.of(issue);
        });
  }
}
