package indwell.oracle;

import indwell.oracle.Fact.Deed;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;

/**
 * A year of an invented facility with 50 inpatient wards, an emergency department and a day clinic:
 * a few thousand stays that overlap both ends of the year, with corrections, withdrawals and
 * messages that are missing, in a random order of arrival. The same seed gives the same year.
 */
final class YearOfWards {
  static final LocalDate FIRST = LocalDate.parse("2025-01-01");
  static final LocalDate LAST = LocalDate.parse("2025-12-31");
  private static final ZoneId ZONE = ZoneId.of("Europe/Berlin");
  private static final int WARDS = 50;
  private static final int PATIENTS = 3_000;
  private static final Duration A_DAY = Duration.ofDays(1);

  private final Random random;
  private final List<Fact> facts = new ArrayList<>();
  private final List<History.Question> questions = new ArrayList<>();

  private YearOfWards(long seed) {
    this.random = new Random(seed);
  }

  static History of(long seed) {
    return new YearOfWards(seed).history();
  }

  private History history() {
    for (int patient = 1; patient <= PATIENTS; patient++) {
      patient("p" + patient);
    }
    Collections.shuffle(facts, random);
    Map<String, LocalTime> countTimes = new HashMap<>();
    for (int ward = 0; ward < WARDS; ward += 5) {
      countTimes.put(ward(ward), LocalTime.parse(List.of("07:00", "02:30", "23:30").get(ward % 3)));
    }
    return new History(ZONE, LocalTime.MIDNIGHT, countTimes, FIRST, LAST, facts, questions);
  }

  /** Codes that sort otherwise by code point than by number or by a person. */
  private static String ward(int number) {
    return (number % 3 == 0 ? "W" : number % 3 == 1 ? "a-" : "0.") + number;
  }

  private String anyWard() {
    return ward(random.nextInt(WARDS));
  }

  private void patient(String patient) {
    Instant from = anyTime(FIRST.minusDays(20), 385);
    int stays = 1 + random.nextInt(2);
    for (int stay = 1; stay <= stays; stay++) {
      from = stay(patient, "S" + stay, from).plus(hours(1, 24 * 30));
    }
    Instant asked = anyTime(FIRST, 400);
    questions.add(new History.Question(patient, asked));
  }

  /** Writes down a stay and gives its end. */
  private Instant stay(String patient, String encounter, Instant from) {
    Instant at = from;
    if (chance(30)) {
      String area = chance(50) ? "ED" : "DAY";
      tell(at, patient, encounter, Deed.movement("patient-admitted", area, false));
      at = at.plus(hours(1, 30));
    }
    if (!chance(3)) {
      tell(at, patient, encounter, Deed.movement("patient-admitted", anyWard(), true));
    }
    Instant end = at.plus(hours(6, 24 * 14));
    int moves = random.nextInt(4);
    for (int move = 0; move < moves; move++) {
      boolean inpatient = !chance(10);
      String to = inpatient ? anyWard() : "ED";
      tell(
          between(at, end),
          patient,
          encounter,
          Deed.movement("patient-transferred", to, inpatient));
    }
    if (chance(60)) {
      catheters(patient, encounter, between(from, end), end);
    }
    if (!chance(3)) {
      tell(end, patient, encounter, Deed.discharge(chance(8)));
    }
    return end;
  }

  private void catheters(String patient, String encounter, Instant first, Instant end) {
    String route = chance(10) ? "suprapubic" : "urethral";
    String drainage = chance(5) ? "none" : "bag";
    String one = encounter + "-1";
    String two = encounter + "-2";
    tell(first, patient, encounter, Deed.insertion(one, route, drainage, chance(5)));
    Instant changed = between(first, end);
    if (chance(20)) {
      tell(changed, patient, encounter, Deed.exchange(one, two, "urethral", "bag"));
      one = two;
    } else if (chance(25)) {
      tell(changed, patient, encounter, Deed.of("catheter-removed", one));
      one = two;
      tell(between(changed, end), patient, encounter, Deed.insertion(one, route, "bag", false));
    }
    if (chance(70)) {
      Instant last = chance(80) ? end : end.plus(A_DAY);
      tell(between(changed, last), patient, encounter, Deed.of("catheter-removed", one));
    }
  }

  /** One event: told once, or first told wrong, or taken back. */
  private void tell(Instant at, String patient, String encounter, Deed deed) {
    String id = "e" + facts.size();
    String source = chance(80) ? "ward" : "Registry";
    if (chance(8)) {
      Instant wrong = at.plus(hours(-40, 40));
      facts.add(new Fact(source, id, 1, false, wrong, patient, encounter, deed));
      facts.add(new Fact(source, id, 2, chance(15), at, patient, encounter, deed));
    } else {
      facts.add(new Fact(source, id, 1, false, at, patient, encounter, deed));
    }
  }

  private boolean chance(int percent) {
    return random.nextInt(100) < percent;
  }

  private Duration hours(int least, int most) {
    return Duration.ofHours(least + random.nextInt(most - least));
  }

  /** A time of day that is often midnight or a count time. */
  private Instant anyTime(LocalDate first, int days) {
    LocalTime time =
        chance(10)
            ? LocalTime.MIDNIGHT
            : chance(10)
                ? LocalTime.of(7, 0)
                : LocalTime.of(random.nextInt(24), random.nextInt(60));
    return first.plusDays(random.nextInt(days)).atTime(time).atZone(ZONE).toInstant();
  }

  /** An instant between the two, often on a midnight or at a count time. */
  private Instant between(Instant first, Instant last) {
    long hours = Math.max(1, Duration.between(first, last).toHours());
    Instant at = first.plus(Duration.ofHours(random.nextLong(hours)));
    if (chance(20)) {
      LocalDate date = LocalDate.ofInstant(at, ZONE).plusDays(1);
      Instant round = date.atTime(chance(50) ? 0 : 7, 0).atZone(ZONE).toInstant();
      return round.isBefore(last) ? round : at;
    }
    return at.plusSeconds(random.nextInt(3_600));
  }
}
