package indwell.fhir.term;

import org.hl7.fhir.r4.model.Coding;

/**
 * What a submission to NHSN calls the sums of a report. They stand beside our own codes in reports
 * and nowhere else.
 *
 * <p>Source: HL7 CDA NHSN Healthcare Associated Infection Reports, Summary Data Observation. That
 * document prints them without a display that we know of, so none is given.
 */
public enum Nhsn {
  PATIENT_DAYS("1851-5"),
  URINARY_CATHETER_DAYS("1853-1");

  private final String code;

  Nhsn(String code) {
    this.code = code;
  }

  /** A fresh Coding. */
  public Coding coding() {
    return new Coding().setSystem(Systems.CDC_NHSN).setCode(code);
  }
}
