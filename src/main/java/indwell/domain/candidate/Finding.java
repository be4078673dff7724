package indwell.domain.candidate;

import java.time.LocalDate;

/** What was found at the bedside on a local date. */
public sealed interface Finding permits Finding.Reading, Finding.Sign {
  /** The local date. */
  LocalDate on();

  /** Whether it is that symptom, other causes aside. */
  boolean shows(Symptom symptom);

  /** A temperature as charted. */
  record Reading(LocalDate on, Temperature temperature) implements Finding {
    @Override
    public boolean shows(Symptom symptom) {
      return (symptom == Symptom.FEVER && temperature.isFever())
          || (symptom == Symptom.HYPOTHERMIA && temperature.isHypothermia());
    }
  }

  /**
   * Any other sign or symptom.
   *
   * @param symptom none that is read off a temperature
   * @param otherCause whether a person recognises another cause
   */
  record Sign(LocalDate on, Symptom symptom, boolean otherCause) implements Finding {
    public Sign {
      if (symptom.isTemperature()) {
        throw new IllegalArgumentException(symptom.code() + " is read off a temperature");
      }
    }

    @Override
    public boolean shows(Symptom other) {
      return symptom == other;
    }
  }
}
