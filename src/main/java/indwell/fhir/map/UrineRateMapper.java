package indwell.fhir.map;

import indwell.domain.event.EventKey;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.rule.UrineRate;
import indwell.domain.time.Span;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.LocalCodes;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Ucum;
import java.math.BigDecimal;
import java.time.Instant;
import org.hl7.fhir.r4.model.Observation;

/** The urine of an interval by body weight and time, worked out of two Observations. */
public final class UrineRateMapper {
  /** Decimals of the rate; the last one is rounded half up. */
  static final int DECIMALS = 4;

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
          Ucum.plain(UrineRate.of(bare, weight.kg(), DECIMALS)),
          weight.key());
    }
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
