package indwell.adapter.validation;

/** Check digits of the two terminologies whose codes we quote. */
final class CheckDigits {
  /** The dihedral group of order 10, row by row. Source: J. Verhoeff 1969, as SNOMED CT uses it. */
  private static final String GROUP =
      "0123456789"
          + "1234067895"
          + "2340178956"
          + "3401289567"
          + "4012395678"
          + "5987604321"
          + "6598710432"
          + "7659821043"
          + "8765932104"
          + "9876543210";

  private static final String PERMUTATION = "1576283094";

  private CheckDigits() {}

  /** Whether a SNOMED CT identifier is well formed: a concept, with the right check digit. */
  static boolean snomed(String id) {
    String partition = id.substring(id.length() - 3, id.length() - 1);
    int sum = 0;
    for (int i = 0; i < id.length(); i++) {
      int digit = id.charAt(id.length() - 1 - i) - '0';
      for (int turn = 0; turn < i % 8; turn++) {
        digit = PERMUTATION.charAt(digit) - '0';
      }
      sum = GROUP.charAt(10 * sum + digit) - '0';
    }
    return sum == 0 && (partition.equals("00") || partition.equals("10"));
  }

  /** Whether a LOINC code ends in its mod 10 check digit. */
  static boolean loinc(String code) {
    String digits = code.replace("-", "");
    int sum = 0;
    for (int i = digits.length() - 1; i >= 0; i--) {
      int digit = digits.charAt(i) - '0';
      boolean doubled = (digits.length() - 1 - i) % 2 == 1;
      int value = doubled ? 2 * digit : digit;
      sum += value > 9 ? value - 9 : value;
    }
    return sum % 10 == 0;
  }
}
