package indwell.web.page;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.web.HttpAnswer;
import java.time.Instant;
import java.util.List;

/** A page that says what went wrong, by its code, and what to do now. */
final class ErrorPage {
  private final Templates templates;
  private final Moments moments;

  ErrorPage(Templates templates, Moments moments) {
    this.templates = templates;
    this.moments = moments;
  }

  /**
   * What is told.
   *
   * @param heading what went wrong in a few words
   * @param sentence the same with values
   * @param advice what to do
   */
  public record View(int status, String code, String heading, String sentence, String advice) {}

  HttpAnswer of(PageRefusal refusal, Instant now) {
    Issue issue = refusal.issue();
    View view =
        new View(
            refusal.status(),
            issue.code().code(),
            heading(issue.code()),
            issue.diagnostics(),
            advice(issue.code()));
    Frame frame = Frame.of(view.heading(), "", moments, now);
    return PageAnswers.html(view.status(), templates.render("page/error", frame, view))
        .because(List.of(issue));
  }

  private static String heading(IssueCode code) {
    return switch (code) {
      case NOT_FOUND -> "Not on record";
      case FORM_FROM_ELSEWHERE, FORM_OUT_OF_DATE -> "Nothing was recorded";
      case NO_RECORDER -> "Who is recording?";
      case TOKEN_MISSING -> "Who are you?";
      case ROLE_MISSING -> "Not for your role";
      case CATHETER_NOT_THERE -> "Not in place any more";
      case INSERTION_WITHDRAWN -> "Taken back";
      case METHOD_NOT_ALLOWED -> "This address is asked for in another way";
      case STORE_UNAVAILABLE, STORE_CROWDED, BUSY -> "Not now";
      case INTERNAL, PROFILE_VIOLATED -> "A fault of the service";
      default -> "That cannot be shown";
    };
  }

  private static String advice(IssueCode code) {
    return switch (code) {
      case NOT_FOUND -> "Look at the address, or choose from the wards.";
      case FORM_FROM_ELSEWHERE, FORM_OUT_OF_DATE -> "Open the ward page again and record it there.";
      case TOKEN_MISSING -> "Log in, then open the page again.";
      case ROLE_MISSING -> "Ask whoever gives out the roles, if your work needs this page.";
      case NO_RECORDER -> "Say on the ward page who is recording, then record again.";
      case CATHETER_NOT_THERE -> "Look at the ward page: somebody has recorded its removal.";
      case INSERTION_WITHDRAWN -> "The patient's page shows what stands now.";
      case METHOD_NOT_ALLOWED -> "Open the ward page.";
      case STORE_UNAVAILABLE, STORE_CROWDED, BUSY ->
          "Try again in a moment. What was recorded before is safe.";
      case INTERNAL, PROFILE_VIOLATED ->
          "Try again; if it happens twice, tell whoever runs the service, with the number above.";
      default -> "Mend what the sentence names, or go back to the wards.";
    };
  }
}
