package indwell.domain.rule;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;

/**
 * The settings of a ward over time: each entry holds from its date until the next one begins, so
 * that a new entry changes no day before it.
 *
 * @param entries ascending by date, one a date
 */
public record SettingsHistory(List<OwnSettings> entries) {
  /** A ward that has set nothing. */
  public static final SettingsHistory NONE = new SettingsHistory(List.of());

  /**
   * Entries in any order.
   *
   * @throws IllegalArgumentException if two begin on one date
   */
  public SettingsHistory {
    entries = entries.stream().sorted(Comparator.comparing(OwnSettings::from)).toList();
    if (new TreeSet<>(entries.stream().map(OwnSettings::from).toList()).size() < entries.size()) {
      throw new IllegalArgumentException("Two entries begin on one date");
    }
  }

  /** The entry that holds on a date; empty before the first. */
  public Optional<OwnSettings> on(LocalDate date) {
    return entries.stream()
        .filter(entry -> !entry.from().isAfter(date))
        .reduce((earlier, later) -> later);
  }

  /** The entries that hold, or held, on some date before this one. */
  public List<OwnSettings> begunBefore(LocalDate date) {
    return entries.stream().filter(entry -> entry.from().isBefore(date)).toList();
  }
}
