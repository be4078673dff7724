package indwell.web.page;

/**
 * A time on a page.
 *
 * @param text what is read
 * @param title the whole of it, with the zone
 * @param datetime for programs, as the attribute of that name
 */
public record Moment(String text, String title, String datetime) {}
