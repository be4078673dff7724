package indwell.domain.candidate;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeSet;

/**
 * The rules P1 to P6, E1 to E4, U1, U2 and U4 once more, in whole numbers and without a calendar:
 * day 0 is the day of admission to the one ward. Written from the rules, not from the code.
 *
 * @param discharge day of the discharge; empty for none
 * @param in day of the insertion of the one catheter, at or after the admission
 * @param out day of its removal
 */
record CandidateOracle(
    OptionalInt discharge,
    int in,
    int out,
    int age,
    int culture,
    Set<Integer> fevers,
    Set<Integer> dysurias,
    Set<Integer> pains,
    Set<Integer> bloods) {

  /** The answer in one line: {@code SUTI-1a 3 hai eligible W1}, or {@code none}. */
  String answer() {
    boolean ofTheStay = culture >= -2 && culture <= last(4);
    String inside = ofTheStay ? answer(true) : "none";
    if (!inside.equals("none") || (culture >= -2 && culture <= last(1))) {
      return inside;
    }
    return answer(false);
  }

  private int last(int after) {
    return discharge.isPresent() ? discharge.getAsInt() + after : Integer.MAX_VALUE;
  }

  private String answer(boolean stay) {
    List<String> found = new ArrayList<>();
    for (int first = culture - 3; first <= culture && found.isEmpty(); first++) {
      int event = stay ? Math.max(first, 0) : first;
      if (stay && event > last(1)) {
        continue;
      }
      boolean eligible = stay && eligible(event);
      boolean fever = begins(first, fevers, stay) && (eligible || age <= 65);
      boolean other = begins(first, usableDysurias(), stay) || begins(first, pains, stay);
      if (fever || other) {
        found.add(line(eligible ? "SUTI-1a" : "SUTI-1b", event, stay, eligible));
      }
    }
    return found.isEmpty() ? bacteraemic(stay) : found.get(0);
  }

  private String bacteraemic(boolean stay) {
    if (anySymptom(stay)) {
      return "none";
    }
    for (int first = culture - 3; first <= culture; first++) {
      int event = stay ? Math.max(first, 0) : first;
      boolean eligible = stay && eligible(event);
      boolean feverish = eligible && firstIn(fevers, stay).isPresent();
      if (begins(first, bloods, stay) && event <= (stay ? last(1) : event) && !feverish) {
        return line("ABUTI", event, stay, eligible);
      }
    }
    return "none";
  }

  /** A symptom that some criterion uses, whether its event lies in the stay or after it. */
  private boolean anySymptom(boolean stay) {
    for (int first = culture - 3; first <= culture; first++) {
      boolean eligible = stay && eligible(Math.max(first, 0));
      if ((begins(first, fevers, stay) && (eligible || age <= 65))
          || begins(first, usableDysurias(), stay)
          || begins(first, pains, stay)) {
        return true;
      }
    }
    return false;
  }

  /** Whether the culture and the first of these days in the window have their first on this day. */
  private boolean begins(int day, Set<Integer> days, boolean stay) {
    OptionalInt first = firstIn(days, stay);
    return first.isPresent() && Math.min(first.getAsInt(), culture) == day;
  }

  private OptionalInt firstIn(Set<Integer> days, boolean stay) {
    int from = stay ? Math.max(culture - 3, -2) : culture - 3;
    return days.stream()
        .mapToInt(Integer::intValue)
        .filter(day -> day >= from && day <= culture + 3)
        .min();
  }

  private Set<Integer> usableDysurias() {
    Set<Integer> usable = new TreeSet<>(dysurias);
    usable.removeIf(day -> day >= in && day <= end());
    return usable;
  }

  /** The last day with the catheter. */
  private int end() {
    return Math.min(out, last(0));
  }

  private boolean eligible(int day) {
    boolean there = day >= in && day <= end() && day - in + 1 >= 3;
    boolean dayAfter = day == end() + 1 && end() - in + 1 >= 3;
    return there || dayAfter;
  }

  private static String line(String criterion, int event, boolean stay, boolean eligible) {
    String onset = !stay ? "outside" : event <= 1 ? "poa" : "hai";
    return criterion
        + " "
        + event
        + " "
        + onset
        + (eligible ? " eligible" : "")
        + (onset.equals("hai") ? " W1" : "");
  }
}
