package indwell.web.page;

import java.time.Instant;

/**
 * What stands around every page.
 *
 * @param title of the page
 * @param section which entry of the navigation the page belongs to: {@code wards}, {@code report}
 *     or none
 * @param computed when the page was worked out
 * @param zone of all times on it
 */
public record Frame(String title, String section, Moment computed, String zone) {
  /** The frame of a page that is worked out now. */
  public static Frame of(String title, String section, Moments moments, Instant now) {
    return new Frame(title, section, moments.at(now), moments.zone());
  }
}
