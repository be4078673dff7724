package indwell.domain.candidate;

/** What a criterion asks for. */
public sealed interface ElementKind permits ElementKind.Evidence, Symptom {
  /** The word as answers carry it. */
  String code();

  /** The same as a sentence writes it. */
  default String words() {
    return code().replace('-', ' ');
  }

  /** What is no symptom. */
  enum Evidence implements ElementKind {
    URINE_CULTURE("urine-culture"),
    BLOOD_CULTURE("matching-blood-culture"),
    NO_SYMPTOM("no-symptom");

    private final String code;

    Evidence(String code) {
      this.code = code;
    }

    @Override
    public String code() {
      return code;
    }
  }
}
