package indwell.domain.candidate;

import indwell.domain.candidate.Finding.Reading;
import indwell.domain.candidate.Finding.Sign;
import indwell.domain.candidate.Temperature.Unit;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * What is asked about a patient, in clauses.
 *
 * <pre>
 * culture 06-05                                       100000 CFU/mL of Escherichia coli
 * culture 06-05 Escherichia coli bacterium 75000-100000 + Candida albicans candida
 * blood 06-05 Escherichia coli bacterium              screening
 * temperature 06-04 38.1 Cel
 * dysuria 06-04                                       with other cause
 * event 05-20 Escherichia coli
 * aged 70                                             else 40
 * born 1959-06-05
 * surgery 06-01 11:00
 * </pre>
 *
 * A date without a year lies in 2024; times are UTC.
 */
public final class CandidateSentence {
  private static final Pattern CLAUSE =
      Pattern.compile("aged (\\d+)|born (\\S+)|([a-z-]+) ((?:\\d{4}-)?\\d\\d-\\d\\d)(?: (.*))?");
  private static final Pattern GROWTH =
      Pattern.compile("(.+?) ([a-z-]+)(?: (>=)?(\\d+)(?:-(\\d+))?)?");
  private static final Organism E_COLI = new Organism("Escherichia coli", OrganismKind.BACTERIUM);

  private final List<UrineCulture> cultures = new ArrayList<>();
  private final List<Finding> findings = new ArrayList<>();
  private final List<BloodCulture> blood = new ArrayList<>();
  private final List<EarlierEvent> earlier = new ArrayList<>();
  private Age age = new Age.Stated(40);
  private Optional<Instant> surgery = Optional.empty();

  private CandidateSentence() {}

  /** Whether the clause is one of these, and none about the bedside. */
  public static boolean reads(String clause) {
    String word = clause.split(" ")[0];
    return List.of("culture", "blood", "temperature", "event", "aged", "born", "surgery")
            .contains(word)
        || symptom(word).isPresent();
  }

  /** The question that the clauses make. */
  public static CandidateQuestion of(List<String> clauses) {
    CandidateSentence sentence = new CandidateSentence();
    clauses.forEach(sentence::add);
    return new CandidateQuestion(
        sentence.age,
        sentence.cultures,
        sentence.findings,
        sentence.blood,
        sentence.earlier,
        sentence.surgery);
  }

  /** The question of clauses divided by semicolons. */
  public static CandidateQuestion of(String clauses) {
    return of(Arrays.asList(clauses.split("; ", -1)));
  }

  /** A date as these sentences write it. */
  public static LocalDate date(String text) {
    return LocalDate.parse(text.length() == 5 ? "2024-" + text : text);
  }

  private static Optional<Symptom> symptom(String code) {
    return Stream.of(Symptom.values()).filter(one -> one.code().equals(code)).findFirst();
  }

  private void add(String clause) {
    Matcher parts = CLAUSE.matcher(clause);
    if (!parts.matches()) {
      throw new IllegalArgumentException("Not a clause: " + clause);
    }
    if (parts.group(1) != null) {
      age = new Age.Stated(Integer.parseInt(parts.group(1)));
    } else if (parts.group(2) != null) {
      age = new Age.Born(date(parts.group(2)));
    } else {
      add(parts.group(3), date(parts.group(4)), Optional.ofNullable(parts.group(5)).orElse(""));
    }
  }

  private void add(String word, LocalDate on, String rest) {
    switch (word) {
      case "culture" -> cultures.add(new UrineCulture(on, growth(rest)));
      case "blood" -> blood.add(blood(on, rest));
      case "temperature" -> findings.add(new Reading(on, temperature(rest)));
      case "event" -> earlier.add(new EarlierEvent(on, rest.isEmpty() ? List.of() : List.of(rest)));
      case "surgery" -> surgery = Optional.of(Instant.parse(on + "T" + rest + ":00Z"));
      default ->
          findings.add(new Sign(on, symptom(word).orElseThrow(), rest.equals("with other cause")));
    }
  }

  private static List<Growth> growth(String rest) {
    if (rest.isEmpty()) {
      return List.of(new Growth(E_COLI, Optional.of(ColonyCount.of(100_000))));
    }
    return rest.equals("without growth")
        ? List.of()
        : Stream.of(rest.split(" \\+ ")).map(CandidateSentence::oneGrowth).toList();
  }

  private static Growth oneGrowth(String text) {
    Matcher parts = GROWTH.matcher(text);
    if (!parts.matches()) {
      throw new IllegalArgumentException("Not an organism: " + text);
    }
    OrganismKind kind = kind(parts.group(2));
    return new Growth(new Organism(parts.group(1), kind), count(parts));
  }

  private static Optional<ColonyCount> count(Matcher parts) {
    if (parts.group(4) == null) {
      return Optional.empty();
    }
    int from = Integer.parseInt(parts.group(4));
    if (parts.group(3) != null) {
      return Optional.of(new ColonyCount(from, OptionalInt.empty()));
    }
    int to = Optional.ofNullable(parts.group(5)).map(Integer::parseInt).orElse(from);
    return Optional.of(new ColonyCount(from, OptionalInt.of(to)));
  }

  private static BloodCulture blood(LocalDate on, String rest) {
    boolean screening = rest.endsWith(" screening");
    String organisms = screening ? rest.replaceFirst(" screening$", "") : rest;
    return new BloodCulture(
        on, growth(organisms).stream().map(Growth::organism).toList(), screening);
  }

  private static Temperature temperature(String rest) {
    String[] valueAndUnit = rest.split(" ");
    return new Temperature(new BigDecimal(valueAndUnit[0]), unit(valueAndUnit[1]));
  }

  private static OrganismKind kind(String code) {
    return Stream.of(OrganismKind.values())
        .filter(one -> one.code().equals(code))
        .findFirst()
        .orElseThrow();
  }

  private static Unit unit(String code) {
    return Stream.of(Unit.values())
        .filter(one -> one.code().equals(code))
        .findFirst()
        .orElseThrow();
  }
}
