package indwell.oracle;

import java.time.Instant;

/**
 * One version of one event as it was sent: plain words, no type of the service. What a kind of
 * event does not have is null, as in the table that it is written to.
 *
 * @param route of what an insertion or exchange puts in, as {@code drainage} and {@code
 *     beforeAdmission}
 */
record Fact(
    String source,
    String eventId,
    int version,
    boolean withdrawn,
    Instant at,
    String patient,
    String encounter,
    Deed deed) {

  /**
   * What happened.
   *
   * @param catheter of an exchange: the old one
   */
  record Deed(
      String type,
      String ward,
      Boolean inpatient,
      Boolean withCatheter,
      String catheter,
      String replacement,
      String route,
      String drainage,
      Boolean beforeAdmission) {

    static Deed movement(String type, String ward, boolean inpatient) {
      return new Deed(type, ward, inpatient, null, null, null, null, null, null);
    }

    static Deed discharge(boolean withCatheter) {
      return new Deed("patient-discharged", null, null, withCatheter, null, null, null, null, null);
    }

    static Deed insertion(String catheter, String route, String drainage, boolean beforeAdmission) {
      return new Deed(
          "catheter-inserted", null, null, null, catheter, null, route, drainage, beforeAdmission);
    }

    static Deed exchange(String old, String replacement, String route, String drainage) {
      return new Deed(
          "catheter-exchanged", null, null, null, old, replacement, route, drainage, false);
    }

    static Deed of(String type, String catheter) {
      return new Deed(type, null, null, null, catheter, null, null, null, null);
    }

    /** The deed in a few words, as in a {@link indwell.domain.TimelineSentence}. */
    String words() {
      StringBuilder words = new StringBuilder(type.substring(type.indexOf('-') + 1));
      for (String word : new String[] {ward, catheter, replacement}) {
        words.append(word == null ? "" : " " + word);
      }
      words.append(Boolean.FALSE.equals(inpatient) ? " outpatient" : "");
      words.append(Boolean.TRUE.equals(withCatheter) ? " with-catheter" : "");
      words.append("suprapubic".equals(route) ? " suprapubic" : "");
      words.append("none".equals(drainage) ? " no-bag" : "");
      return words
          .append(Boolean.TRUE.equals(beforeAdmission) ? " before-admission" : "")
          .toString();
    }
  }
}
