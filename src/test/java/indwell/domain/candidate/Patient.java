package indwell.domain.candidate;

import indwell.domain.TimelineSentence;
import indwell.domain.candidate.Outcome.Met;
import indwell.domain.candidate.Outcome.NewCandidate;
import java.util.List;

/** A history in words, and what is said of cultures in words. */
final class Patient {
  private final TimelineSentence history;

  private Patient(TimelineSentence history) {
    this.history = history;
  }

  /** Lines of a {@link TimelineSentence}. */
  static Patient of(String lines) {
    return new Patient(TimelineSentence.of(lines));
  }

  static Patient in(String zone, String lines) {
    return new Patient(TimelineSentence.in(zone, lines));
  }

  /** In ward W1 from 06-01 on, and without a catheter. */
  static Patient admitted() {
    return of("06-01 07:00 admitted W1");
  }

  /** In ward W1 from 06-01 on, with a catheter from that date on. */
  static Patient catheterised() {
    return of("06-01 07:00 admitted W1\n06-01 08:00 inserted c1");
  }

  TimelineSentence history() {
    return history;
  }

  List<Assessment> assessments(String clauses) {
    return CandidateReview.of(
        history.timeline(), history.calendar(), CandidateSentence.of(clauses));
  }

  Assessment assess(String clauses) {
    List<Assessment> all = assessments(clauses);
    return all.get(all.size() - 1);
  }

  /** The criterion and whether it is one for a catheter-associated event; {@code none}. */
  String result(String clauses) {
    return assess(clauses).outcome() instanceof Met met
        ? met.criterion().code()
            + (met instanceof NewCandidate one && one.catheterAssociated() ? " catheter" : "")
        : "none";
  }

  /** The candidate for a new event; fails when there is none. */
  NewCandidate candidate(String clauses) {
    return (NewCandidate) assess(clauses).outcome();
  }
}
