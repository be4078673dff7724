package indwell.intake;

import indwell.domain.candidate.Finding;
import indwell.domain.candidate.Finding.Reading;
import indwell.domain.candidate.Finding.Sign;
import indwell.domain.candidate.Symptom;
import indwell.domain.candidate.Symptom.Bar;
import indwell.domain.candidate.Temperature;
import indwell.domain.candidate.Temperature.Unit;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;

/** Reads one finding: a temperature with its unit, or a sign or symptom. */
record FindingReader(CandidateDates dates) {
  private static final String TEMPERATURE = "temperature";
  private static final FieldKind<String> KIND =
      new CodeKind<>(
          Stream.concat(
                  Stream.of(TEMPERATURE),
                  Arrays.stream(Symptom.values())
                      .filter(symptom -> !symptom.isTemperature())
                      .map(Symptom::code))
              .toArray(String[]::new),
          Function.identity());
  private static final FieldKind<Unit> UNIT = new CodeKind<>(Unit.values(), Unit::code);
  private static final FieldKind<BigDecimal> CELSIUS =
      DecimalKind.of("Temperature", "Cel", "20", "50");
  private static final FieldKind<BigDecimal> FAHRENHEIT =
      DecimalKind.of("Temperature", "[degF]", "68", "122");

  Optional<Finding> read(ObjectReader finding, Faults faults) {
    Optional<String> kind = finding.required("kind", KIND);
    Optional<LocalDate> on = dates.either(finding, "at", "on", faults);
    if (kind.isEmpty()) {
      // Which fields belong to it is not known, so none of them is called unknown.
      finding.knows("value");
      finding.knows("unit");
      finding.knows("otherCause");
      return Optional.empty();
    }
    return kind.get().equals(TEMPERATURE)
        ? temperature(finding, on)
        : sign(finding, symptom(kind.get()), on);
  }

  private static Symptom symptom(String code) {
    return Arrays.stream(Symptom.values())
        .filter(symptom -> symptom.code().equals(code))
        .findFirst()
        .orElseThrow();
  }

  private static Optional<Finding> temperature(ObjectReader finding, Optional<LocalDate> on) {
    Optional<Unit> unit = finding.required("unit", UNIT);
    boolean fahrenheit = unit.filter(one -> one == Unit.FAHRENHEIT).isPresent();
    Optional<BigDecimal> value = finding.required("value", fahrenheit ? FAHRENHEIT : CELSIUS);
    return on.isPresent() && unit.isPresent() && value.isPresent()
        ? Optional.of(new Reading(on.get(), new Temperature(value.get(), unit.get())))
        : Optional.empty();
  }

  private static Optional<Finding> sign(
      ObjectReader finding, Symptom symptom, Optional<LocalDate> on) {
    Optional<Boolean> otherCause =
        symptom.bar() == Bar.OTHER_CAUSE
            ? finding.optional("otherCause", Kinds.BOOLEAN)
            : Optional.empty();
    return on.map(date -> new Sign(date, symptom, otherCause.orElse(false)));
  }
}
