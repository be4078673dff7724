package indwell.usecase;

import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.Remark;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardDayCount;
import indwell.domain.timeline.WardDayLedger;
import indwell.usecase.CountedRecord.Who;
import indwell.usecase.DeviceDays.Question;
import indwell.usecase.DeviceDays.Table;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Consumer;

/** One question about device days, put to one record. */
final class DeviceDayCount {
  private final CountedRecord counted;
  private final HouseRules house;
  private final Question asked;
  private final CountedPatients patients;

  DeviceDayCount(CountedRecord counted, Question asked, CountedPatients patients) {
    this.counted = counted;
    this.house = counted.house();
    this.asked = asked;
    this.patients = patients;
  }

  /**
   * @param now a date whose count time has not come by then is refused
   */
  Asked<Table> answer(Instant now) {
    Set<Ward> wards = wardsAsked();
    return unknownWard()
        .or(this::unknownPatient)
        .or(() -> badRange(wards, now))
        .orElseGet(() -> Asked.answer(count(wards)));
  }

  private Optional<Asked<Table>> unknownWard() {
    return asked
        .ward()
        .filter(ward -> !counted.knowsWard(ward))
        .map(
            ward ->
                Asked.refuse(
                    IssueCode.NOT_FOUND,
                    "ward",
                    "Ward " + ward.code() + " is not known; expected a ward that an event named."));
  }

  private Optional<Asked<Table>> unknownPatient() {
    return asked
        .patientId()
        .filter(id -> !counted.knowsPatient(id))
        .map(
            id ->
                Asked.refuse(
                    IssueCode.NOT_FOUND,
                    "subject",
                    "Patient " + id + " is not known; expected the id of a Patient."));
  }

  private Set<Ward> wardsAsked() {
    Set<Ward> inpatient = new TreeSet<>(counted.inpatientWards());
    asked.ward().ifPresent(ward -> inpatient.retainAll(Set.of(ward)));
    return inpatient;
  }

  private Optional<Asked<Table>> badRange(Set<Ward> wards, Instant now) {
    LocalDate end = asked.endInclusive();
    if (end.isBefore(asked.start())) {
      return Optional.of(
          badEnd(
              "The end "
                  + end
                  + " is before the start "
                  + asked.start()
                  + "; expected a date at or after it."));
    }
    if (ChronoUnit.DAYS.between(asked.start(), end) >= DeviceDays.MOST_DAYS) {
      return Optional.of(
          badEnd(
              "The range from "
                  + asked.start()
                  + " through "
                  + end
                  + " is too long; expected at most "
                  + DeviceDays.MOST_DAYS
                  + " days."));
    }
    if (lastCount(end, wards).isAfter(now)) {
      return Optional.of(
          badEnd(
              "The count time of "
                  + end
                  + " has not come; expected a date that has been counted."));
    }
    return Optional.empty();
  }

  private static Asked<Table> badEnd(String diagnostics) {
    return Asked.refuse(IssueCode.BAD_PARAMETER, "end", diagnostics);
  }

  /** When the last of the wards is counted on that date. */
  private Instant lastCount(LocalDate date, Set<Ward> wards) {
    LocalTime none =
        asked.ward().map(ward -> house.countTime(ward, date)).orElse(house.facility().countTime());
    LocalTime latest =
        wards.stream()
            .map(ward -> house.countTime(ward, date))
            .max(Comparator.naturalOrder())
            .orElse(none);
    return house.calendar().at(date, latest);
  }

  private Table count(Set<Ward> wards) {
    boolean eachPatient = patients.asked() || asked.patientId().isPresent();
    return eachPatient ? countByTimelines(wards) : countByTimes(wards);
  }

  /** Reads the events of everybody who was there. */
  private Table countByTimelines(Set<Ward> wards) {
    WardDayCount count =
        new WardDayCount(
            house.calendar(), house::countTime, wards, asked.start(), asked.endInclusive());
    List<Remark> remarks = new ArrayList<>();
    Who who = asked.patientId().<Who>map(Who.Only::new).orElse(new Who.Everybody());
    forEach(
        wards,
        who,
        timeline -> {
          patients.add(count, timeline);
          timeline.remarks().stream().filter(this::isWithin).forEach(remarks::add);
        });
    return new Table(asked, count.counts(), patients.all(), Remarks.inOrder(remarks));
  }

  /** Reads what is kept of the times that count, and the events of those alone who have remarks. */
  private Table countByTimes(Set<Ward> wards) {
    WardDayLedger ledger =
        new WardDayLedger(
            house.calendar(), house::countTime, wards, asked.start(), asked.endInclusive());
    counted.forEachTime(wards, from(), until(), ledger);
    List<Remark> remarks = new ArrayList<>();
    forEach(
        wards,
        new Who.Doubtful(),
        timeline -> timeline.remarks().stream().filter(this::isWithin).forEach(remarks::add));
    return new Table(asked, ledger.counts(), patients.all(), Remarks.inOrder(remarks));
  }

  private void forEach(Set<Ward> wards, Who who, Consumer<Timeline> visit) {
    counted.forEach(wards, from(), until(), who, (id, events) -> visit.accept(Timeline.of(events)));
  }

  private Instant from() {
    return house.calendar().startOf(asked.start());
  }

  /** A date in a gap of the local clock may be counted on the next date, hence two days more. */
  private Instant until() {
    return house.calendar().startOf(asked.endInclusive().plusDays(2));
  }

  private boolean isWithin(Remark remark) {
    LocalDate date = house.calendar().dateOf(remark.at());
    return !date.isBefore(asked.start()) && !date.isAfter(asked.endInclusive());
  }
}
