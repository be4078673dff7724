package indwell.fhir.map;

import indwell.domain.refusal.IssueCode;

/** A setting of a ward that is well-formed FHIR and still nothing that can be followed. */
public final class UnusableSetting extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final IssueCode code;
  private final String sentence;

  UnusableSetting(IssueCode code, String sentence) {
    super(sentence);
    this.code = code;
    this.sentence = sentence;
  }

  /** What kind of fault it is. */
  public IssueCode code() {
    return code;
  }

  /** What is wrong with which value, and what was expected. */
  public String sentence() {
    return sentence;
  }
}
