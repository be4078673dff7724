package indwell.web.page;

import indwell.domain.refusal.IssueCode;
import indwell.web.HttpAnswer;
import indwell.web.page.FormSeal.Sealed;
import java.util.Optional;
import java.util.regex.Pattern;

/** Knows a browser by a cookie, and takes forms from it. */
public final class Browsers {
  private static final String COOKIE = "indwell-browser";
  private static final Pattern NAME = Pattern.compile("[A-Za-z0-9-]{16,64}");
  private static final Pattern NUMBER = Pattern.compile("[A-Za-z0-9-]{16,64}");
  private static final Pattern SECONDS = Pattern.compile("\\d{1,12}");

  private final FormSeal seal;

  /** Browsers whose forms are sealed like that. */
  public Browsers(FormSeal seal) {
    this.seal = seal;
  }

  /**
   * A browser.
   *
   * @param isNew whether it has to be told its name
   */
  public record Browser(String name, boolean isNew) {
    /** The answer, which tells a new browser its name. */
    public HttpAnswer told(HttpAnswer answer) {
      return isNew
          ? answer.with("Set-Cookie", COOKIE + "=" + name + "; Path=/; HttpOnly; SameSite=Strict")
          : answer;
    }
  }

  /** The browser that asks. */
  public Browser of(PageRequest request) {
    return known(request)
        .map(name -> new Browser(name, false))
        .orElseGet(() -> new Browser(seal.fresh(), true));
  }

  private static Optional<String> known(PageRequest request) {
    return Optional.ofNullable(request.cookies().get(COOKIE))
        .filter(name -> NAME.matcher(name).matches());
  }

  /** Seals a form for that browser. */
  public Sealed seal(Browser browser, String subject, PageRequest request) {
    return seal.seal(browser.name(), subject, request.now());
  }

  /**
   * Takes a form that was sent: from a page of this service, by the browser it was given to.
   *
   * @return the number of the form
   */
  public String taken(PageRequest request, String subject) {
    if (!request.origin().holds()) {
      throw PageRefusal.of(
          IssueCode.FORM_FROM_ELSEWHERE,
          "The form does not come from a page of this service; expected one that was opened here.");
    }
    Sealed sent =
        new Sealed(
            request.requiredField("number"),
            request.requiredField("issued"),
            request.requiredField("seal"));
    boolean holds =
        NUMBER.matcher(sent.number()).matches()
            && SECONDS.matcher(sent.issued()).matches()
            && known(request)
                .filter(browser -> seal.holds(sent, browser, subject, request.now()))
                .isPresent();
    if (!holds) {
      throw PageRefusal.of(
          IssueCode.FORM_OUT_OF_DATE,
          "The form is not one that this browser was given within the last "
              + FormSeal.GOOD_FOR.toHours()
              + " hours; expected a page that was opened anew.");
    }
    return sent.number();
  }
}
