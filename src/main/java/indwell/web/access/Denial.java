package indwell.web.access;

import indwell.access.Doubt;
import indwell.access.Verdict;
import indwell.access.Verdict.Lacking;
import indwell.access.Verdict.Unknown;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.web.HttpAnswer;
import java.util.Optional;

/**
 * What is answered to a request that may not go on, whatever shape its error has.
 *
 * @param challenge header {@code WWW-Authenticate}; empty where a token would not help
 */
public record Denial(int status, Issue issue, Optional<String> challenge) {
  private static final String BEARER = "Bearer realm=\"indwell\"";

  /** The denial; empty for what may go on. */
  public static Optional<Denial> of(Verdict verdict) {
    if (verdict instanceof Unknown unknown) {
      return Optional.of(of(unknown.doubt()));
    }
    return verdict instanceof Lacking lacking ? Optional.of(of(lacking)) : Optional.empty();
  }

  /** RFC 6750, section 3.1: without a token there is no error code. */
  private static Denial of(Doubt doubt) {
    return switch (doubt) {
      case NO_TOKEN ->
          new Denial(
              401,
              error(
                  IssueCode.TOKEN_MISSING,
                  "The request has no bearer token; expected header Authorization with one of the"
                      + " configured issuer."),
              Optional.of(BEARER));
      case ISSUER_AWAY ->
          new Denial(
              503,
              error(
                  IssueCode.ISSUER_UNAVAILABLE,
                  "The keys of the issuer cannot be fetched; expected the request again later."),
              Optional.empty());
      default ->
          new Denial(
              401,
              error(
                  IssueCode.TOKEN_REFUSED,
                  "The bearer token is not taken: "
                      + doubt.what()
                      + "; expected "
                      + doubt.expected()
                      + "."),
              Optional.of(BEARER + ", error=\"invalid_token\""));
    };
  }

  private static Denial of(Lacking lacking) {
    if (lacking.role()) {
      return new Denial(
          403,
          error(
              IssueCode.ROLE_MISSING,
              "This needs the role " + lacking.wanted() + "; expected somebody who has it."),
          Optional.empty());
    }
    String patient =
        lacking.patientScopes()
            ? " A scope for one patient gives nothing here, because no launch says which."
            : "";
    return new Denial(
        403,
        error(
            IssueCode.SCOPE_MISSING,
            "The token lacks the scope "
                + lacking.wanted()
                + "; expected one that has it."
                + patient),
        Optional.of(BEARER + ", error=\"insufficient_scope\", scope=\"" + lacking.wanted() + "\""));
  }

  private static Issue error(IssueCode code, String sentence) {
    return Issue.error(code, "", sentence);
  }

  /** The answer with the header that belongs to it. */
  public HttpAnswer on(HttpAnswer answer) {
    return challenge.map(text -> answer.with("WWW-Authenticate", text)).orElse(answer);
  }
}
