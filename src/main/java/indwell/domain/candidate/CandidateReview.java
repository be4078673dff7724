package indwell.domain.candidate;

import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Timeline;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.IntStream;

/**
 * Works out, culture by culture, which are candidates for review by a person: window, elements,
 * date of event, present on admission or not, repeat timeframe, device association, ward.
 *
 * <p>Source: the order of work is that of CDC, NHSN FAQs: Miscellaneous (published).
 */
public final class CandidateReview {
  private static final Comparator<Judged> BY_DATE =
      Comparator.comparing(Judged::dateOfEventOrCulture).thenComparing(Judged::collectedOn);

  private final CandidateQuestion question;
  private final EligibilityCount catheters;
  private final List<HospitalStay> stays;

  private CandidateReview(
      Timeline timeline, FacilityCalendar calendar, CandidateQuestion question) {
    this.question = question;
    this.catheters = new EligibilityCount(timeline, calendar);
    this.stays = HospitalStay.of(timeline, calendar, question.through());
  }

  /** One assessment for each culture of the question, in its order. */
  public static List<Assessment> of(
      Timeline timeline, FacilityCalendar calendar, CandidateQuestion question) {
    return question.cultures().isEmpty()
        ? List.of()
        : new CandidateReview(timeline, calendar, question).assessments();
  }

  /**
   * Events open their timeframes by their dates, of one date by that of the culture, whatever the
   * order asked in.
   */
  private List<Assessment> assessments() {
    List<Judged> judged = question.cultures().stream().map(this::judge).toList();
    EventBook book = EventBook.of(question.earlier(), stays);
    TreeMap<Integer, Assessment> inOrderAsked = new TreeMap<>();
    IntStream.range(0, judged.size())
        .boxed()
        .sorted(Comparator.comparing(judged::get, BY_DATE))
        .forEach(index -> inOrderAsked.put(index, Conclusion.of(judged.get(index), book)));
    return List.copyOf(inOrderAsked.values());
  }

  /**
   * In the first stay that holds the date of event; else in the last one that holds the culture,
   * where no criterion is met then; else in none.
   */
  private Judged judge(UrineCulture culture) {
    List<Judged> inStays =
        stays.stream()
            .filter(stay -> stay.reachesBackTo(culture.collectedOn()))
            .map(stay -> judge(culture, Optional.of(stay)))
            .toList();
    return inStays.stream()
        .filter(Judged::liesInItsStay)
        .findFirst()
        .or(() -> inStays.stream().filter(Judged::collectedInItsStay).reduce((one, later) -> later))
        .orElseGet(() -> judge(culture, Optional.empty()));
  }

  private Judged judge(UrineCulture culture, Optional<HospitalStay> stay) {
    Ruled<DateRange> window =
        InfectionWindow.around(culture.collectedOn(), stay.map(HospitalStay::admission));
    return Judged.of(
        new CultureWorkup(
            culture,
            UsableCulture.pathogens(culture),
            window,
            new UsableFindings(question.findings(), window.value(), catheters),
            question.blood(),
            question.age(),
            stay));
  }
}
