package indwell.domain.candidate;

import indwell.domain.event.Ward;
import indwell.domain.timeline.CatheterDay;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/** What became of one culture. */
public sealed interface Outcome {

  /** No criterion is met. */
  record NoCriterion() implements Outcome {}

  /** A criterion is met: whatever follows from it. */
  sealed interface Met extends Outcome {
    /**
     * The one met with the earliest first element; of equals the first in the order of the rules.
     */
    Criterion criterion();

    /** The date of event: the local date of the criterion's first element within the window. */
    DateOfEvent dateOfEvent();

    /** Whether the date of event lies at the beginning of a stay, later, or in none. */
    Onset onset();

    /** The date of event in its stay; empty outside any. */
    Optional<HospitalDay> hospitalDay();

    /** The date of event as the eligibility count sees it; empty outside any stay. */
    Optional<CatheterDay> day();
  }

  /**
   * A candidate for a new event.
   *
   * @param timeframe the repeat infection timeframe that it opens
   * @param attributionPeriod the secondary attribution period
   * @param organisms the bacteria that make the culture usable
   * @param secondaryBlood blood of that period with one of them
   * @param catheterAssociated whether the date of event is eligible
   * @param ward where it is attributed; empty when it is present on admission or outside any stay
   */
  record NewCandidate(
      Criterion criterion,
      DateOfEvent dateOfEvent,
      Onset onset,
      Optional<HospitalDay> hospitalDay,
      Optional<CatheterDay> day,
      DateRange timeframe,
      DateRange attributionPeriod,
      List<Organism> organisms,
      List<SecondaryBlood> secondaryBlood,
      boolean catheterAssociated,
      Optional<Ward> ward)
      implements Met {
    public NewCandidate {
      organisms = List.copyOf(organisms);
      secondaryBlood = List.copyOf(secondaryBlood);
    }
  }

  /**
   * No new event, because the date of event lies in the timeframe of an earlier one, whose date,
   * device association and ward stay.
   *
   * @param timeframe that of the earlier event
   * @param organisms those that the earlier event does not name yet
   */
  record Added(
      Criterion criterion,
      DateOfEvent dateOfEvent,
      Onset onset,
      Optional<HospitalDay> hospitalDay,
      Optional<CatheterDay> day,
      EarlierEvent to,
      DateRange timeframe,
      List<Organism> organisms)
      implements Met {
    public Added {
      organisms = List.copyOf(organisms);
    }
  }

  /** Blood that may be secondary to the event, and what of it is in the urine too. */
  record SecondaryBlood(LocalDate collectedOn, List<Organism> organisms) {
    public SecondaryBlood {
      organisms = List.copyOf(organisms);
    }
  }
}
