package indwell.domain.candidate;

import indwell.domain.timeline.CatheterDay;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * All that bears on one urine culture.
 *
 * @param pathogens the bacteria that make it usable, and why it is or is not
 * @param findings those of its window
 * @param stay the stay that it is looked at in; empty outside any
 */
record CultureWorkup(
    UrineCulture culture,
    Ruled<List<Organism>> pathogens,
    Ruled<DateRange> window,
    UsableFindings findings,
    List<BloodCulture> blood,
    Age age,
    Optional<HospitalStay> stay) {

  boolean isUsable() {
    return !pathogens.value().isEmpty();
  }

  /** The date of event of the culture and another element. */
  DateOfEvent dateOfEvent(LocalDate other) {
    return DateOfEvent.of(culture.collectedOn(), other, stay.map(HospitalStay::admission));
  }

  /** Whether an event of that date may be device-associated; never outside a stay. */
  boolean isEligible(LocalDate date) {
    return day(date).filter(CatheterDay::eligible).isPresent();
  }

  Optional<CatheterDay> day(LocalDate date) {
    return stay.flatMap(one -> one.day(date));
  }

  /** The culture as an element of a criterion. */
  Element cultureElement() {
    return new Element(
        ElementKind.Evidence.URINE_CULTURE,
        isUsable(),
        Optional.of(culture.collectedOn()),
        pathogens.trace());
  }
}
