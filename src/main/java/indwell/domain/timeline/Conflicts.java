package indwell.domain.timeline;

/**
 * The tables by which a timeline settles its events, read from {@code conflicts.csv} beside this
 * class; the words of the file are the names below in lower case.
 *
 * @param discharges what the instant of a discharge has seen before it
 * @param stays the encounter that a movement names
 * @param otherStays every further encounter of the patient, when one is admitted to
 * @param wards the ward that the patient is in, when a movement brings them into one
 * @param catheters the catheter that an event names
 * @param leftIn each catheter that the patient ever had, when the patient leaves or arrives
 * @param departures an earlier time of a catheter that a discharge had ended
 * @param placings where the patient is when a catheter is put in
 */
record Conflicts(
    ConflictTable<DischargeBefore, DischargeEvent, DischargeAction> discharges,
    ConflictTable<StayBefore, StayEvent, StayAction> stays,
    ConflictTable<OtherStay, OtherStayEvent, OtherStayAction> otherStays,
    ConflictTable<WardBefore, WardEvent, WardAction> wards,
    ConflictTable<CatheterBefore, CatheterHappening, CatheterAction> catheters,
    ConflictTable<CatheterThere, PatientMove, LeftInAction> leftIn,
    ConflictTable<Departure, DepartureEvent, DepartureAction> departures,
    ConflictTable<PatientAt, PlacingEvent, PlacingAction> placings) {

  /** The tables of the file. */
  static final Conflicts OF_THE_FILE = read(ConflictFile.read());

  static Conflicts read(ConflictFile file) {
    return new Conflicts(
        file.table("discharge", DischargeBefore.class, DischargeEvent.class, DischargeAction.class),
        file.table("stay", StayBefore.class, StayEvent.class, StayAction.class),
        file.table("other-stay", OtherStay.class, OtherStayEvent.class, OtherStayAction.class),
        file.table("ward", WardBefore.class, WardEvent.class, WardAction.class),
        file.table("catheter", CatheterBefore.class, CatheterHappening.class, CatheterAction.class),
        file.table("left-in", CatheterThere.class, PatientMove.class, LeftInAction.class),
        file.table("departure", Departure.class, DepartureEvent.class, DepartureAction.class),
        file.table("placing", PatientAt.class, PlacingEvent.class, PlacingAction.class));
  }

  enum DischargeBefore {
    LEFT_NOW,
    NOT_LEFT_NOW
  }

  enum DischargeEvent {
    DISCHARGED
  }

  enum DischargeAction {
    SETTLE,
    OVERRULE
  }

  enum StayBefore {
    NEW_NOWHERE,
    NEW_ELSEWHERE,
    OPEN_HERE,
    OPEN_NOWHERE,
    OPEN_ELSEWHERE,
    ENDED
  }

  enum StayEvent {
    ADMITTED,
    TRANSFERRED,
    DISCHARGED
  }

  enum StayAction {
    BEGIN,
    MOVE,
    END,
    END_AND_LEAVE,
    LEAVE,
    NOTHING
  }

  enum OtherStay {
    OPEN,
    ENDED
  }

  enum OtherStayEvent {
    ADMITTED_ELSEWHERE
  }

  enum OtherStayAction {
    END,
    NOTHING
  }

  enum WardBefore {
    NOWHERE,
    SINCE_EARLIER,
    SINCE_NOW
  }

  enum WardEvent {
    MOVED
  }

  enum WardAction {
    ENTER,
    CHANGE,
    REPLACE
  }

  enum CatheterBefore {
    NEVER_IN,
    IN_PLACE,
    IN_PLACE_NOW,
    RESTING,
    OUT
  }

  enum CatheterHappening {
    INSERTED,
    EXCHANGED_IN,
    EXCHANGED_OUT,
    REMOVED,
    LOOKED_AFTER
  }

  enum CatheterAction {
    PLACE,
    PLACE_ANEW,
    OVERRULE,
    END,
    ATTACH,
    NOTHING
  }

  enum CatheterThere {
    IN_PLACE,
    RESTING,
    OUT
  }

  enum PatientMove {
    DISCHARGED,
    DISCHARGED_WITH,
    PATIENT_ARRIVED
  }

  enum LeftInAction {
    END,
    REST,
    RESUME,
    NOTHING
  }

  enum Departure {
    UNRECORDED,
    RECORDED
  }

  enum DepartureEvent {
    TAKEN_OUT
  }

  enum DepartureAction {
    RECORD,
    NOTHING
  }

  enum PatientAt {
    NOWHERE,
    IN_A_WARD
  }

  enum PlacingEvent {
    PUT_IN
  }

  enum PlacingAction {
    PLACE
  }
}
