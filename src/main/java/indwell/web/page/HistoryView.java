package indwell.web.page;

import java.util.List;

/**
 * The versions of one event as they are read.
 *
 * @param what kind of event
 * @param event its source and event id
 * @param takenBack whether it stands no more
 */
public record HistoryView(String what, String event, boolean takenBack, List<Version> versions) {
  /**
   * One version.
   *
   * @param received when the service took it
   * @param recorder empty when not stated
   * @param says what this version does: states, corrects, takes back, or names another patient
   */
  public record Version(
      int number, Moment received, String recorder, String says, List<Change> changes) {}

  /** A field that this version says otherwise. */
  public record Change(String field, String before, String after) {}
}
