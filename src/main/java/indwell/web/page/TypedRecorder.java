package indwell.web.page;

import indwell.domain.event.BusinessId;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.term.Systems;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * Where no issuer is configured, and so nobody logs in: what the nurse typed in as a staff number,
 * kept in a cookie of that browser for a shift. Nobody vouches for it.
 */
public final class TypedRecorder implements Recorders {
  /** Naming system of what was typed in. */
  public static final String SYSTEM = Systems.BASE + "/typed-in-recorder";

  /** Name of the cookie. */
  public static final String COOKIE = "indwell-recorder";

  /** What a cookie can carry as it is; names of people have no place in it. */
  private static final Pattern STAFF_NUMBER = Pattern.compile("[A-Za-z0-9][A-Za-z0-9._-]{0,31}");

  @Override
  public Optional<BusinessId> of(PageRequest request) {
    return Optional.ofNullable(request.cookies().get(COOKIE))
        .filter(value -> STAFF_NUMBER.matcher(value).matches())
        .map(value -> new BusinessId(SYSTEM, value));
  }

  @Override
  public boolean verified() {
    return false;
  }

  /** The cookie for a staff number; another text is refused. */
  public static String cookie(String staffNumber) {
    if (!STAFF_NUMBER.matcher(staffNumber).matches()) {
      throw PageRefusal.of(
          IssueCode.BAD_FORM,
          "Staff number \""
              + Shortened.text(staffNumber)
              + "\" cannot be kept; expected 1 to 32 letters, digits, dots, hyphens or underscores,"
              + " the first a letter or digit.");
    }
    return COOKIE
        + "="
        + staffNumber
        + "; Path=/; Max-Age="
        + FormSeal.GOOD_FOR.toSeconds()
        + "; HttpOnly; SameSite=Strict";
  }
}
