package indwell.web.page;

import indwell.access.Caller;
import java.time.Instant;

/**
 * What stands around every page.
 *
 * @param title of the page
 * @param section which entry of the navigation the page belongs to: {@code wards}, {@code report}
 *     or none
 * @param computed when the page was worked out
 * @param zone of all times on it
 * @param loggedIn whether somebody is logged in, who can log out
 */
public record Frame(String title, String section, Moment computed, String zone, boolean loggedIn) {
  /** The frame of a page that is worked out now, for nobody in particular. */
  public static Frame of(String title, String section, Moments moments, Instant now) {
    return new Frame(title, section, moments.at(now), moments.zone(), false);
  }

  /** The frame of a page that is worked out for a request. */
  public static Frame of(String title, String section, Moments moments, PageRequest request) {
    return new Frame(
        title,
        section,
        moments.at(request.now()),
        moments.zone(),
        request.caller() instanceof Caller.Known);
  }
}
