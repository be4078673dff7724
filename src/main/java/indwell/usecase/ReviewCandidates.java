package indwell.usecase;

import indwell.domain.candidate.CandidateAnswer;
import indwell.domain.candidate.CandidateQuestion;
import indwell.domain.candidate.CandidateReview;
import indwell.domain.candidate.PostoperativeRemoval;
import indwell.domain.event.BusinessId;
import indwell.domain.refusal.IssueCode;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.ResourceId;
import indwell.port.ClinicalStore;
import indwell.port.ResourceKey;
import java.time.Instant;

/**
 * Answers which urine cultures are candidates for review by a person, from what the caller tells
 * and the stored events of the patient. Writes nothing.
 */
public final class ReviewCandidates {
  private final ClinicalStore store;
  private final Facility facility;

  public ReviewCandidates(ClinicalStore store, Facility facility) {
    this.store = store;
    this.facility = facility;
  }

  /** The facility's calendar, by which the times of a question become dates. */
  public FacilityCalendar calendar() {
    return facility.calendar();
  }

  /** The answer by what had happened at {@code now}. */
  public Asked<CandidateAnswer> of(BusinessId patient, CandidateQuestion question, Instant now) {
    ResourceId id = ResourceId.patient(patient);
    return store.read(
        state ->
            state.resource(new ResourceKey(id.type(), id.id())).isEmpty()
                ? Asked.refuse(
                    IssueCode.PATIENT_NOT_KNOWN,
                    "patient",
                    "Patient "
                        + patient.value()
                        + " is not known in that system; expected one that an event named.")
                : Asked.answer(
                    answer(
                        patient,
                        question,
                        Timeline.asOf(PatientTimelines.eventsOf(state, id.id()), now),
                        now)));
  }

  private CandidateAnswer answer(
      BusinessId patient, CandidateQuestion question, Timeline timeline, Instant now) {
    FacilityCalendar calendar = facility.calendar();
    return new CandidateAnswer(
        patient,
        calendar.zone(),
        CandidateReview.of(timeline, calendar, question),
        question
            .surgeryEndedAt()
            .map(end -> PostoperativeRemoval.of(timeline, calendar, end, calendar.dateOf(now))),
        Remarks.inOrder(timeline.remarks()));
  }
}
