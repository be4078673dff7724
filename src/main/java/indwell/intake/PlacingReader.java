package indwell.intake;

import indwell.domain.event.CatheterId;
import indwell.domain.event.Drainage;
import indwell.domain.event.InsertionFindings;
import indwell.domain.event.InsertionStep;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.domain.event.Route;
import indwell.domain.event.StatedIndication;
import indwell.domain.event.StepResult;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;

/** Reads how a catheter was put in; the names are those of the fields. */
record PlacingReader(
    Optional<String> catheterId,
    Optional<Route> route,
    Optional<Drainage> drainage,
    Optional<Integer> sizeCh,
    Optional<BigDecimal> balloonLabelMl,
    Optional<BigDecimal> balloonFilledMl,
    Optional<String> material,
    Optional<Integer> lumens,
    Optional<String> lotNumber,
    Optional<String> udi,
    Optional<Integer> maxDwellDays,
    Optional<StatedIndication> indication,
    Optional<Instant> surgeryEndedAt,
    Optional<BigDecimal> urineReturnedMl,
    Optional<Boolean> specimenTaken,
    Optional<Integer> attempts,
    Optional<Boolean> insertedBeforeAdmission,
    Optional<Map<InsertionStep, StepResult>> steps) {

  static PlacingReader read(ObjectReader details, TimeLimits limits) {
    return new PlacingReader(
        details.required("catheterId", Kinds.TEXT),
        details.required("route", Kinds.ROUTE),
        details.optional("drainage", Kinds.DRAINAGE),
        details.required("sizeCh", Kinds.SIZE),
        details.optional("balloonLabelMl", Kinds.BALLOON_LABEL),
        details.optional("balloonFilledMl", Kinds.BALLOON_FILL),
        details.optional("material", Kinds.TEXT),
        details.optional("lumens", Kinds.LUMENS),
        details.optional("lotNumber", Kinds.TEXT),
        details.optional("udi", Kinds.TEXT),
        details.optional("maxDwellDays", Kinds.DWELL),
        IndicationReader.read(details, true),
        details.optional("surgeryEndedAt", new TimeKind(limits)),
        details.optional("urineReturnedMl", Kinds.URINE_RETURNED),
        details.optional("specimenTaken", Kinds.BOOLEAN),
        details.optional("attempts", Kinds.ATTEMPTS),
        details.optional("insertedBeforeAdmission", Kinds.BOOLEAN),
        details.optional("steps", Kinds.STEPS));
  }

  /** The placing as a value; only when there was no fault. */
  Placing value() {
    return new Placing(
        new CatheterId(catheterId.orElseThrow()),
        route.orElseThrow(),
        drainage.orElse(Drainage.BAG),
        product(),
        indication.orElseThrow(),
        surgeryEndedAt,
        findings(),
        steps.orElse(Map.of()));
  }

  private Product product() {
    return new Product(
        sizeCh.orElseThrow(),
        balloonLabelMl,
        material,
        asInt(lumens),
        lotNumber,
        udi,
        asInt(maxDwellDays));
  }

  private InsertionFindings findings() {
    return new InsertionFindings(
        balloonFilledMl, urineReturnedMl, specimenTaken, asInt(attempts), insertedBeforeAdmission);
  }

  private static OptionalInt asInt(Optional<Integer> number) {
    return number.stream().mapToInt(Integer::intValue).findFirst();
  }
}
