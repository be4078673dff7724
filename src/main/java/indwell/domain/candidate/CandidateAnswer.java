package indwell.domain.candidate;

import indwell.domain.event.BusinessId;
import indwell.domain.timeline.Remark;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;

/**
 * What is said about one patient, for review by a person.
 *
 * @param zone of the facility, whose calendar all dates are of
 * @param assessments one for each culture of the question, in its order
 * @param removal empty when no operation was told of
 * @param remarks what is doubtful in the record that the days were counted from
 */
public record CandidateAnswer(
    BusinessId patient,
    ZoneId zone,
    List<Assessment> assessments,
    Optional<PostoperativeRemoval> removal,
    List<Remark> remarks) {
  /** Stands in every answer. */
  public static final String CAUTION =
      "Candidates are for review by a person and never a diagnosis. They support clinical judgement"
          + " and never replace it; local policy and licensed practice decide.";

  public CandidateAnswer {
    assessments = List.copyOf(assessments);
    remarks = List.copyOf(remarks);
  }
}
