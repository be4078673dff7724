package indwell.domain.event;

import java.util.Optional;

/** A patient enters, changes or leaves a ward; always within a named stay. */
public sealed interface Movement extends BedsideEvent permits Movement.Arrival, Movement.Discharge {

  /** The stay that the movement belongs to. */
  BusinessId encounter();

  @Override
  default Optional<BusinessId> encounterNamed() {
    return Optional.of(encounter());
  }

  /** A movement into a ward: an admission or a transfer. */
  sealed interface Arrival extends Movement permits Admission, Transfer {
    /** Where to. */
    Ward ward();

    /** False for an emergency or outpatient area. */
    boolean inpatient();
  }

  /**
   * The patient is admitted.
   *
   * @param inpatient false for an emergency or outpatient area
   */
  record Admission(Envelope envelope, BusinessId encounter, Ward ward, boolean inpatient)
      implements Arrival {
    @Override
    public EventType type() {
      return EventType.PATIENT_ADMITTED;
    }
  }

  /**
   * The patient moves to another ward.
   *
   * @param ward where to
   * @param inpatient false for an emergency or outpatient area
   */
  record Transfer(Envelope envelope, BusinessId encounter, Ward ward, boolean inpatient)
      implements Arrival {
    @Override
    public EventType type() {
      return EventType.PATIENT_TRANSFERRED;
    }
  }

  /**
   * The patient leaves.
   *
   * @param withCatheter true when the patient left with the catheter on purpose; empty when not
   *     stated, which reads as false
   */
  record Discharge(Envelope envelope, BusinessId encounter, Optional<Boolean> withCatheter)
      implements Movement {
    @Override
    public EventType type() {
      return EventType.PATIENT_DISCHARGED;
    }
  }
}
