package indwell.port;

import java.util.Optional;
import java.util.regex.Pattern;

/**
 * A row of the audit trail as it is kept.
 *
 * @param number ascends in the order in which rows were written
 */
public record Audited(long number, AuditEntry entry) {
  private static final Pattern ID = Pattern.compile("a([0-9]{19})");

  /** The id of its AuditEvent: ids ascend as numbers do. */
  public static String id(long number) {
    return String.format("a%019d", number);
  }

  /** The id of its AuditEvent. */
  public String id() {
    return id(number);
  }

  /** The number that an id was made of; empty for one that was made of none. */
  public static Optional<Long> number(String id) {
    return ID.matcher(id).matches() ? parsed(id.substring(1)) : Optional.empty();
  }

  private static Optional<Long> parsed(String digits) {
    try {
      return Optional.of(Long.parseLong(digits));
    } catch (NumberFormatException beyond) {
      return Optional.empty();
    }
  }
}
