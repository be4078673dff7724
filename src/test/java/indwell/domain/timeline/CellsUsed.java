package indwell.domain.timeline;

import java.util.Locale;
import java.util.Set;

/** Tables that give the cells of others and note which were asked for. */
final class CellsUsed {
  private CellsUsed() {}

  static Conflicts watched(Conflicts conflicts, Set<String> used) {
    return new Conflicts(
        watched("discharge", conflicts.discharges(), used),
        watched("stay", conflicts.stays(), used),
        watched("other-stay", conflicts.otherStays(), used),
        watched("ward", conflicts.wards(), used),
        watched("catheter", conflicts.catheters(), used),
        watched("left-in", conflicts.leftIn(), used),
        watched("departure", conflicts.departures(), used),
        watched("placing", conflicts.placings(), used));
  }

  private static <B extends Enum<B>, E extends Enum<E>, A extends Enum<A>>
      ConflictTable<B, E, A> watched(
          String subject, ConflictTable<B, E, A> table, Set<String> used) {
    return new ConflictTable<>(table) {
      @Override
      Cell<A> cell(B before, E event) {
        used.add(subject + " " + word(before) + " " + word(event));
        return super.cell(before, event);
      }
    };
  }

  private static String word(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }
}
