package indwell.domain.candidate;

import java.time.LocalDate;
import java.time.Period;

/** How old the patient is, in completed years on a local date. */
public sealed interface Age permits Age.Born, Age.Stated {
  /** Completed years. */
  int yearsOn(LocalDate date);

  /** Reckoned from the birth date, 29 February reaching its year on 1 March of a common year. */
  record Born(LocalDate birthDate) implements Age {
    @Override
    public int yearsOn(LocalDate date) {
      return Period.between(birthDate, date).getYears();
    }
  }

  /** As stated, whatever the date. */
  record Stated(int years) implements Age {
    @Override
    public int yearsOn(LocalDate date) {
      return years;
    }
  }
}
