package indwell.web.page;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;

/** Ends the work on a page: the issue is what the reader is told instead. */
public final class PageRefusal extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final transient Issue issue;

  private PageRefusal(Issue issue) {
    super(issue.code().code(), null, false, false);
    this.issue = issue;
  }

  /** A refusal with its sentence. */
  public static PageRefusal of(IssueCode code, String sentence) {
    return new PageRefusal(Issue.error(code, "", sentence));
  }

  /** A refusal that a use case gave. */
  public static PageRefusal of(Issue issue) {
    return new PageRefusal(issue);
  }

  /** What the reader is told. */
  Issue issue() {
    return issue;
  }

  /** The HTTP status that says the same. */
  int status() {
    return switch (issue.code()) {
      case TOKEN_MISSING -> 401;
      case ROLE_MISSING -> 403;
      case NOT_FOUND -> 404;
      case BAD_PARAMETER, UNKNOWN_PARAMETER, MISSING_PARAMETER, BAD_FORM -> 400;
      case UNREADABLE_MONTH, MONTH_OUT_OF_RANGE -> 400;
      case FORM_FROM_ELSEWHERE, FORM_OUT_OF_DATE, NO_RECORDER -> 403;
      case METHOD_NOT_ALLOWED -> 405;
      case CATHETER_NOT_THERE -> 409;
      case INSERTION_WITHDRAWN -> 410;
      case TOO_LARGE -> 413;
      case MEDIA_TYPE -> 415;
      case STORE_UNAVAILABLE, STORE_CROWDED, BUSY -> 503;
      case INTERNAL, PROFILE_VIOLATED -> 500;
      default -> 422;
    };
  }
}
