package indwell.fhir.term;

/** LOINC codes in use. */
public final class Loinc {
  /** Every volume, whatever its interval. Source: MII intensive care module 2026.0.2. */
  public static final Term URINE_OUTPUT = of("9187-6", "Urine output");

  /** Source: US Core 9.0.0, body weight. */
  public static final Term BODY_WEIGHT = of("29463-7", "Body weight");

  private Loinc() {}

  private static Term of(String code, String display) {
    return new Term(Systems.LOINC, code, display);
  }
}
