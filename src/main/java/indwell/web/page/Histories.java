package indwell.web.page;

import indwell.domain.event.BusinessId;
import indwell.usecase.EventHistory;
import indwell.usecase.EventHistory.Version;
import java.time.Instant;
import java.util.List;

/** Puts histories of events into words. */
public final class Histories {
  private static final String NOTHING = "not stated";

  private final Moments moments;

  /** With times as these moments tell them. */
  public Histories(Moments moments) {
    this.moments = moments;
  }

  /**
   * The history as the page of one patient tells it.
   *
   * @param patientId of that page; of another patient nothing is told
   */
  public HistoryView of(EventHistory history, String patientId, Instant now) {
    return new HistoryView(
        Words.of(history.type()),
        history.key().token(),
        history.takenBack(),
        history.versions().stream().map(one -> version(one, patientId, now)).toList());
  }

  private HistoryView.Version version(Version version, String patientId, Instant now) {
    boolean here = version.patientId().equals(patientId);
    return new HistoryView.Version(
        version.version(),
        moments.near(version.receivedAt(), now),
        version.recorder().map(BusinessId::value).orElse(""),
        says(version, here),
        here
            ? version.changes().stream()
                .filter(change -> !change.field().startsWith("patient."))
                .map(
                    change ->
                        new HistoryView.Change(
                            change.field(),
                            change.before().orElse(NOTHING),
                            change.after().orElse(NOTHING)))
                .toList()
            : List.of());
  }

  private static String says(Version version, boolean here) {
    if (!here) {
      return "names another patient";
    }
    if (version.event().isEmpty()) {
      return "takes the event back as entered in error";
    }
    return version.changes().isEmpty() ? "states the event" : "corrects it";
  }
}
