package indwell.intake;

import indwell.domain.candidate.Age;
import indwell.domain.candidate.BloodCulture;
import indwell.domain.candidate.CandidateQuestion;
import indwell.domain.candidate.EarlierEvent;
import indwell.domain.candidate.Finding;
import indwell.domain.candidate.UrineCulture;
import indwell.domain.event.BusinessId;
import indwell.domain.time.FacilityCalendar;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Makes a question about candidates of a tree, or tells everything that is wrong with it. */
final class CandidateReader {
  private static final int MOST_CULTURES = 50;
  private static final int MOST_FINDINGS = 1_000;
  private static final int MOST_EVENTS = 50;
  private static final int MOST_ORGANISMS = 20;
  private static final FieldKind<Integer> AGE = WholeNumberKind.of("Age", "years", 0, 130);
  private static final FieldKind<List<String>> NAMES =
      new ListKind<>("organisms", MOST_ORGANISMS, Kinds.TEXT);

  private final ObjectReader question;
  private final Faults faults;
  private final Optional<LocalDate> birth;
  private final CandidateDates dates;

  private CandidateReader(ObjectReader question, CandidateDates dates, Faults faults) {
    this.question = question;
    this.faults = faults;
    this.birth = dates.birth(question, "birthDate", faults);
    this.dates = dates.withBirth(birth);
  }

  /**
   * Reads a question.
   *
   * @param findings what the gate found in the tree
   * @param now the service's clock, which no date is ahead of
   */
  static CandidateBody read(
      Map<?, ?> tree, List<GateFinding> findings, Instant now, FacilityCalendar calendar) {
    Faults faults = new Faults(findings);
    ObjectReader question = ObjectReader.of(tree, "", faults);
    Optional<BusinessId> patient = question.required("patient", Kinds.IDENTIFIER);
    CandidateReader reader =
        new CandidateReader(question, CandidateDates.at(now, calendar), faults);
    Optional<Age> age = reader.age();
    List<UrineCulture> cultures = reader.cultures();
    List<Finding> told = reader.findings();
    List<BloodCulture> blood = reader.blood();
    List<EarlierEvent> earlier = reader.earlier();
    Optional<Instant> surgery = reader.surgery();
    question.refuseUnknown();
    if (faults.any()) {
      return new CandidateBody.Rejected(FactsBodies.status(faults.issues()), faults.issues());
    }
    return new CandidateBody.Accepted(
        patient.orElseThrow(),
        new CandidateQuestion(age.orElseThrow(), cultures, told, blood, earlier, surgery));
  }

  private Optional<Age> age() {
    Optional<Integer> years = question.optional("ageYears", AGE);
    return CandidateDates.oneOfTwo(question, "birthDate", "ageYears", faults)
        ? birth.<Age>map(Age.Born::new).or(() -> years.map(Age.Stated::new))
        : Optional.empty();
  }

  private List<UrineCulture> cultures() {
    CultureReader reader = new CultureReader(dates);
    return question
        .required("cultures", list("cultures", MOST_CULTURES, reader::urine))
        .orElse(List.of());
  }

  private List<Finding> findings() {
    FindingReader reader = new FindingReader(dates);
    return optional("findings", list("findings", MOST_FINDINGS, reader::read));
  }

  private List<BloodCulture> blood() {
    CultureReader reader = new CultureReader(dates);
    return optional("bloodCultures", list("blood cultures", MOST_CULTURES, reader::blood));
  }

  private List<EarlierEvent> earlier() {
    return optional("earlierEvents", list("events", MOST_EVENTS, this::event));
  }

  private Optional<EarlierEvent> event(ObjectReader event, Faults found) {
    Optional<LocalDate> date = dates.date(event, "dateOfEvent", found);
    List<String> names = event.optional("organisms", NAMES).orElse(List.of());
    return date.map(on -> new EarlierEvent(on, names));
  }

  private Optional<Instant> surgery() {
    return question.optional("surgeryEndedAt", new TimeKind(dates.limits()));
  }

  private <T> List<T> optional(String name, FieldKind<List<T>> kind) {
    return question.optional(name, kind).orElse(List.of());
  }

  private static <T> FieldKind<List<T>> list(String noun, int most, ObjectKind.Maker<T> make) {
    return new ListKind<>(noun, most, new ObjectKind<>("an object", make));
  }
}
