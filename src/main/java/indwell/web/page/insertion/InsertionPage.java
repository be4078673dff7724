package indwell.web.page.insertion;

import indwell.fhir.map.ResourceId;
import indwell.usecase.Facility;
import indwell.usecase.InsertionRecord;
import indwell.web.HttpAnswer;
import indwell.web.page.Frame;
import indwell.web.page.Moments;
import indwell.web.page.PageAnswers;
import indwell.web.page.PageRefusal;
import indwell.web.page.PageRequest;
import indwell.web.page.PageServer;
import indwell.web.page.Templates;
import io.vertx.ext.web.Router;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.util.Set;

/** What was put in, by whom, how, and how it is secured: one sheet an insertion. */
@ApplicationScoped
public class InsertionPage {
  private final PageServer server;
  private final InsertionRecord records;
  private final Moments moments;
  private final InsertionViews views;
  private final Templates templates = new Templates();

  /** The pages over these records. */
  @Inject
  public InsertionPage(PageServer server, InsertionRecord records, Facility facility) {
    this.server = server;
    this.records = records;
    this.moments = new Moments(facility.calendar());
    this.views = new InsertionViews(moments);
  }

  /** Puts the page on its path. */
  public void register(@Observes Router router) {
    router.route("/insertions/:id").handler(server.reading(this::page));
  }

  private HttpAnswer page(PageRequest request) {
    request.allowOnly(Set.of());
    InsertionView view =
        records
            .of(request.place("id"), request.now())
            .fold(
                record -> {
                  request.visit().about(ResourceId.patient(record.event().patient()).id());
                  return views.view(record, request.now());
                },
                issue -> {
                  throw PageRefusal.of(issue);
                });
    String title = view.kind() + " record of " + view.patient();
    Frame frame = Frame.of(title, "", moments, request);
    return PageAnswers.html(200, templates.render("insertion/record", frame, view));
  }
}
