package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.timeline.CountedPatient;
import indwell.domain.timeline.DayCount;
import indwell.domain.timeline.Remark;
import indwell.port.ClinicalStore;
import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;

/** Patient days and urinary catheter days of wards, by date: the denominator of surveillance. */
public final class DeviceDays {
  /** The longest range that one question may span, in days. */
  public static final int MOST_DAYS = 3660;

  private final ClinicalStore store;
  private final Facility facility;
  private final HouseBook book;

  public DeviceDays(ClinicalStore store, Facility facility) {
    this.store = store;
    this.facility = facility;
    this.book = new HouseBook(facility);
  }

  /**
   * What is asked.
   *
   * @param ward one ward, or all that ever had an inpatient
   * @param start first local date
   * @param endInclusive last local date
   * @param patientId counts this patient alone
   */
  public record Question(
      Optional<Ward> ward, LocalDate start, LocalDate endInclusive, Optional<String> patientId) {

    /** About all patients. */
    public Question(Optional<Ward> ward, LocalDate start, LocalDate endInclusive) {
      this(ward, start, endInclusive, Optional.empty());
    }
  }

  /**
   * The counts by ward (code point) and date, every date there, zeros included.
   *
   * @param patients by ward and month those who counted there; empty unless asked for
   * @param remarks what is doubtful in these dates
   */
  public record Table(
      Question question,
      SortedMap<Ward, SortedMap<LocalDate, DayCount>> counts,
      Map<Ward, Map<YearMonth, List<CountedPatient>>> patients,
      List<Remark> remarks) {

    /** The patients who counted in a ward and month, by id; none when nobody asked. */
    public List<CountedPatient> patientsOf(Ward ward, YearMonth month) {
      return patients.getOrDefault(ward, Map.of()).getOrDefault(month, List.of());
    }

    /** The events that made somebody count in a ward and month; none when nobody asked. */
    public List<BedsideEvent> factsOf(Ward ward, YearMonth month) {
      return patientsOf(ward, month).stream().flatMap(one -> one.facts().stream()).toList();
    }
  }

  /**
   * Counts.
   *
   * @param now a date whose count time has not come by then is refused
   */
  public Asked<Table> count(Question question, Instant now) {
    return ask(question, now, CountedPatients.none());
  }

  /** Counts, and says of each ward and month who counted and by which events. */
  public Asked<Table> explain(Question question, Instant now) {
    return ask(question, now, CountedPatients.collecting());
  }

  /**
   * Counts what somebody sent, as if it were all that is stored; the store is not asked.
   *
   * @param explained whether to say who counted and by which events
   */
  public Asked<Table> countSent(
      SentEvents sent, Question question, boolean explained, Instant now) {
    HouseRules house = new HouseRules(facility, sent.settings());
    CountedPatients patients = explained ? CountedPatients.collecting() : CountedPatients.none();
    return new DeviceDayCount(new SentRecord(sent, house), question, patients).answer(now);
  }

  private Asked<Table> ask(Question question, Instant now, CountedPatients patients) {
    return store.read(
        state ->
            new DeviceDayCount(new StoredRecord(state, book.read(state)), question, patients)
                .answer(now));
  }
}
