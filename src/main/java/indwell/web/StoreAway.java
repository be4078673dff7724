package indwell.web;

import indwell.domain.refusal.IssueCode;
import indwell.port.StoreCrowded;
import indwell.port.StoreUnavailable;

/** Tells whether the store is away or only nobody gets on with it. */
public final class StoreAway {
  private StoreAway() {}

  /** The code of it. */
  public static IssueCode code(StoreUnavailable away) {
    return away instanceof StoreCrowded ? IssueCode.STORE_CROWDED : IssueCode.STORE_UNAVAILABLE;
  }

  /** What is said: the sentence for a store that is away, or that nobody gets on. */
  public static String sentence(StoreUnavailable away, String whenAway) {
    return away instanceof StoreCrowded
        ? "Nobody gets a connection to the database at this moment; expected the request again"
            + " later."
        : whenAway;
  }
}
