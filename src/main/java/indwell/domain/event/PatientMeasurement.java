package indwell.domain.event;

import java.math.BigDecimal;
import java.time.Instant;
import java.util.Optional;

/** Something measured on the patient; it serves every catheter that the patient has. */
public sealed interface PatientMeasurement extends BedsideEvent
    permits PatientMeasurement.UrineOutput, PatientMeasurement.BodyWeight {

  /**
   * Urine that drained in an interval, which ends when the event occurred.
   *
   * @param from start of the interval, before {@link #at()}
   * @param volumeMl volume in mL
   * @param catheter the catheter it drained from, if stated
   */
  record UrineOutput(
      Envelope envelope,
      Optional<BusinessId> encounterNamed,
      Instant from,
      BigDecimal volumeMl,
      Optional<CatheterId> catheter)
      implements PatientMeasurement {
    @Override
    public EventType type() {
      return EventType.URINE_MEASURED;
    }
  }

  /**
   * The patient was weighed.
   *
   * @param kg body weight in kg
   */
  record BodyWeight(Envelope envelope, Optional<BusinessId> encounterNamed, BigDecimal kg)
      implements PatientMeasurement {
    @Override
    public EventType type() {
      return EventType.WEIGHT_MEASURED;
    }
  }
}
