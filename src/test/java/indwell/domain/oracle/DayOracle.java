package indwell.domain.oracle;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.Movement;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Both counts and the attribution, naively; see {@link BedsideOracle}. */
final class DayOracle extends BedsideOracle {

  private static final long QUARTER = 15 * 60;

  private final Instant asOf;
  private final Map<Integer, Boolean> counting = new HashMap<>();

  DayOracle(List<BedsideEvent> all, ZoneId zone, Instant asOf) {
    super(all, zone, asOf);
    this.asOf = asOf;
  }

  LocalDate date(Instant instant) {
    return instant.atZone(zone).toLocalDate();
  }

  /** The first instant at which local clocks show that time or a later one. */
  static Instant clock(LocalDate date, LocalTime time, ZoneId zone) {
    LocalDateTime wanted = date.atTime(time);
    Instant instant = wanted.toInstant(ZoneOffset.UTC).minusSeconds(20 * 60 * 60);
    while (instant.atZone(zone).toLocalDateTime().isBefore(wanted)) {
      instant = instant.plusSeconds(QUARTER);
    }
    return instant;
  }

  /** {@code patients p catheters c} of one ward and date. */
  String wardDay(String ward, LocalDate date, LocalTime countTime) {
    int after = countBy(clock(date, countTime, zone));
    boolean there =
        where(after)
            .filter(here -> here.inpatient() && here.ward().code().equals(ward))
            .isPresent();
    return "patients " + (there ? 1 : 0) + " catheters " + (there && counts(after) ? 1 : 0);
  }

  /** The lines of the latest stay, as the test notation writes them. */
  String days() {
    Optional<BusinessId> latest = latestStay();
    if (latest.isEmpty()) {
      return "";
    }
    BusinessId stay = latest.get();
    int all = events.size();
    LocalDate first = date(at(firstArrival(stay, all).orElseThrow()));
    LocalDate last = date(asOf);
    Optional<LocalDate> dayAfter = ended(stay, all).map(end -> date(at(end)).plusDays(1));
    if (dayAfter.isPresent() && dayAfter.get().isBefore(last)) {
      last = dayAfter.get();
    }
    List<String> lines = new ArrayList<>();
    for (LocalDate date = first; !date.isAfter(last); date = date.plusDays(1)) {
      lines.add(line(stay, date));
    }
    return String.join("\n", lines);
  }

  private Optional<BusinessId> latestStay() {
    Optional<BusinessId> latest = Optional.empty();
    for (int i = 0; i < events.size(); i++) {
      if (events.get(i) instanceof Movement.Arrival arrival && !opened(arrival.encounter(), i)) {
        latest = Optional.of(arrival.encounter());
      }
    }
    return latest;
  }

  private String line(BusinessId stay, LocalDate date) {
    int number = number(stay, date);
    int yesterday = number(stay, date.minusDays(1));
    boolean eligible = number >= 3 || number == 0 && yesterday >= 3;
    return String.join(
        " ",
        date.toString().substring(5),
        number > 0 ? "day " + number : "-",
        present(date) ? "present" : "-",
        eligible ? "eligible" : "-",
        ward(stay, date).orElse("-"));
  }

  /** How many counted dates in a row end here; 0 when this is none. */
  private int number(BusinessId stay, LocalDate date) {
    int inARow = 0;
    while (counted(stay, date.minusDays(inARow))) {
      inARow++;
    }
    return inARow;
  }

  private boolean counted(BusinessId stay, LocalDate date) {
    Optional<LocalDate> first = firstInpatientDate(stay);
    if (first.isEmpty() || date.isBefore(first.get())) {
      return false;
    }
    for (int after = 1; after <= events.size(); after++) {
      if (reaches(after, date) && catheterIn(after) && open(stay, after)) {
        return true;
      }
    }
    return false;
  }

  private boolean present(LocalDate date) {
    for (int after = 1; after <= events.size(); after++) {
      if (reaches(after, date) && catheterIn(after)) {
        return true;
      }
    }
    return false;
  }

  private boolean catheterIn(int after) {
    return counting.computeIfAbsent(after, this::counts);
  }

  /** Whether what stood after so many events stood in any portion of the date, ends included. */
  private boolean reaches(int after, LocalDate date) {
    boolean begun = !date(at(after - 1)).isAfter(date);
    return begun && (after == events.size() || !date(at(after)).isBefore(date));
  }

  // Attribution.

  private Optional<LocalDate> firstInpatientDate(BusinessId stay) {
    return inpatientArrivals(stay).stream().map(i -> date(at(i))).findFirst();
  }

  /** Positions of the inpatient arrivals of the stay that no other arrival overruled at once. */
  private List<Integer> inpatientArrivals(BusinessId stay) {
    List<Integer> positions = new ArrayList<>();
    for (int i = 0; i < events.size(); i++) {
      if (moves(i)
          && ((Movement.Arrival) events.get(i)).encounter().equals(stay)
          && ((Movement.Arrival) events.get(i)).inpatient()
          && !overruled(i)) {
        positions.add(i);
      }
    }
    return positions;
  }

  private boolean overruled(int arrival) {
    for (int i = arrival + 1; i < events.size() && at(i).equals(at(arrival)); i++) {
      if (moves(i)) {
        return true;
      }
    }
    return false;
  }

  private Optional<String> ward(BusinessId stay, LocalDate date) {
    Optional<LocalDate> first = firstInpatientDate(stay);
    if (first.isEmpty() || date.isBefore(first.get())) {
      return Optional.empty();
    }
    LocalDate asked = date.equals(first.get()) ? date : date.minusDays(1);
    for (int i : inpatientArrivals(stay)) {
      if (inWardOn(i, asked)) {
        return Optional.of(((Movement.Arrival) events.get(i)).ward().code());
      }
    }
    return Optional.empty();
  }

  private boolean inWardOn(int arrival, LocalDate date) {
    Instant end = Instant.MAX;
    for (int i = events.size() - 1; i > arrival; i--) {
      if (moves(i) || leaves(i)) {
        end = at(i);
      }
    }
    Instant dayStart = date.atStartOfDay(zone).toInstant();
    Instant dayEnd = date.plusDays(1).atStartOfDay(zone).toInstant();
    Instant start = at(arrival);
    boolean startsThatDay = !start.isBefore(dayStart) && start.isBefore(dayEnd);
    return startsThatDay || start.isBefore(dayStart) && end.isAfter(dayStart);
  }
}
