package indwell.web.page.patient;

import indwell.domain.refusal.IssueCode;
import indwell.usecase.Facility;
import indwell.usecase.PatientStory;
import indwell.web.HttpAnswer;
import indwell.web.page.Frame;
import indwell.web.page.Moments;
import indwell.web.page.PageAnswers;
import indwell.web.page.PageRefusal;
import indwell.web.page.PageRequest;
import indwell.web.page.PageServer;
import indwell.web.page.Shortened;
import indwell.web.page.Templates;
import io.vertx.ext.web.Router;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.util.Set;

/** A stay of one patient: what happened, what follows from it and why, and what was corrected. */
@ApplicationScoped
public class PatientPage {
  private static final String STAY = "stay";

  private final PageServer server;
  private final PatientStory stories;
  private final Moments moments;
  private final PatientViews views;
  private final Templates templates = new Templates();

  /** The pages over these stories. */
  @Inject
  public PatientPage(PageServer server, PatientStory stories, Facility facility) {
    this.server = server;
    this.stories = stories;
    this.moments = new Moments(facility.calendar());
    this.views = new PatientViews(moments);
  }

  /** Puts the page on its path. */
  public void register(@Observes Router router) {
    router.route("/patients/:id").handler(server.reading(this::page));
  }

  private HttpAnswer page(PageRequest request) {
    request.allowOnly(Set.of(STAY));
    String id = request.place("id");
    PatientView view =
        stories
            .of(id, request.value(STAY).map(PatientPage::number), request.now())
            .fold(
                story -> views.view(story, id, request.now()),
                issue -> {
                  throw PageRefusal.of(issue);
                });
    Frame frame = Frame.of(view.patient(), "", moments, request);
    return PageAnswers.html(200, templates.render("patient/stay", frame, view));
  }

  private static Integer number(String text) {
    if (!text.matches("\\d{1,4}")) {
      throw PageRefusal.of(
          IssueCode.BAD_PARAMETER,
          "Parameter stay is \"" + Shortened.text(text) + "\"; expected the number of a stay.");
    }
    return Integer.valueOf(text);
  }
}
