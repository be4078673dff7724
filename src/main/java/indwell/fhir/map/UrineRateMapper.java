package indwell.fhir.map;

import indwell.domain.event.EventKey;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.time.Span;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.LocalCodes;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Ucum;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Duration;
import java.time.Instant;
import org.hl7.fhir.r4.model.Observation;

/** The urine of an interval by body weight and time, worked out of two Observations. */
public final class UrineRateMapper {
  /** Decimals of the rate; the last one is rounded half up. */
  static final int DECIMALS = 4;

  private static final BigDecimal MILLIS_PER_HOUR =
      BigDecimal.valueOf(Duration.ofHours(1).toMillis());

  private UrineRateMapper() {}

  /**
   * @param rate in mL/kg/h
   * @param weight the event that measured the weight in force at the end of the interval
   */
  record Content(Measured measured, Instant from, BigDecimal rate, EventKey weight) {
    static Content of(UrineOutput bare, BodyWeight weight) {
      return new Content(
          Measured.further(bare, EventIdentifier.RATE, bare.catheter()),
          bare.from(),
          perKilogramAndHour(bare, weight.kg()),
          weight.key());
    }
  }

  private static BigDecimal perKilogramAndHour(UrineOutput output, BigDecimal kg) {
    long millis = Duration.between(output.from(), output.at()).toMillis();
    BigDecimal kilogramHours = kg.multiply(BigDecimal.valueOf(millis));
    BigDecimal rate =
        output
            .volumeMl()
            .multiply(MILLIS_PER_HOUR)
            .divide(kilogramHours, DECIMALS, RoundingMode.HALF_UP);
    return Ucum.plain(rate);
  }

  static Observation toFhir(Content content, MappingContext context) {
    Measured measured = content.measured();
    Observation observation =
        Parts.observation(measured, Profiles.URINE_RATE, Hl7.EXAM, LocalCodes.URINE_RATE);
    observation.setEffective(context.period(Span.between(content.from(), measured.at())));
    observation.setValue(Ucum.MILLILITRE_PER_KILOGRAM_AND_HOUR.quantity(content.rate()));
    observation.addDerivedFrom(ResourceId.ofEvent("Observation", measured.key()).reference());
    observation.addDerivedFrom(ResourceId.ofEvent("Observation", content.weight()).reference());
    return observation;
  }
}
