package indwell.web.publishing;

import indwell.port.StoreUnavailable;
import indwell.usecase.publish.Publishing;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Answers requests below {@code /publishing}; waits for the store. */
final class PublishingHandler {
  private static final Pattern ACTION =
      Pattern.compile(
          "/publishing/(?:connection|parked/([A-Za-z]{1,64}/[A-Za-z0-9.-]{1,64}))/(?:\\$|%24)(release|skip)");

  private final Publishing publishing;

  PublishingHandler(Publishing publishing) {
    this.publishing = publishing;
  }

  /**
   * The answer; whatever goes wrong becomes one.
   *
   * @param foreign whether a browser asks for the page of another service
   */
  HttpAnswer answer(String method, String path, boolean foreign) {
    try {
      if (path.equals("/publishing")) {
        return method.equals("GET")
            ? PublishingAnswers.status(publishing.status())
            : PublishingAnswers.wrongMethod("GET, HEAD");
      }
      Matcher action = ACTION.matcher(path);
      if (!action.matches() || (action.group(1) == null && action.group(2).equals("skip"))) {
        return PublishingAnswers.unknownPath();
      }
      if (!method.equals("POST")) {
        return PublishingAnswers.wrongMethod("POST");
      }
      return foreign ? PublishingAnswers.foreign() : act(action);
    } catch (StoreUnavailable away) {
      FaultLog.write("/publishing, the store being away", away);
      return PublishingAnswers.storeAway();
    } catch (RuntimeException fault) {
      return PublishingAnswers.fault(FaultLog.write("/publishing", fault));
    }
  }

  private HttpAnswer act(Matcher action) {
    if (!publishing.on()) {
      return PublishingAnswers.off();
    }
    String reference = action.group(1);
    if (reference == null) {
      return publishing.releaseConnection()
          ? PublishingAnswers.status(publishing.status())
          : PublishingAnswers.notStanding("The connection");
    }
    boolean done =
        action.group(2).equals("release")
            ? publishing.release(reference)
            : publishing.skip(reference);
    return done
        ? PublishingAnswers.status(publishing.status())
        : PublishingAnswers.notStanding(reference);
  }
}
