package indwell.intake;

import indwell.domain.candidate.BloodCulture;
import indwell.domain.candidate.ColonyCount;
import indwell.domain.candidate.Growth;
import indwell.domain.candidate.Organism;
import indwell.domain.candidate.OrganismKind;
import indwell.domain.candidate.UrineCulture;
import indwell.domain.refusal.IssueCode;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/** Reads urine cultures and blood specimens with what was found in them. */
record CultureReader(CandidateDates dates) {
  private static final int MOST_ORGANISMS = 20;
  private static final FieldKind<OrganismKind> KIND =
      new CodeKind<>(OrganismKind.values(), OrganismKind::code);
  private static final FieldKind<ColonyCount> COUNT = new ColonyCountKind();
  private static final FieldKind<List<Growth>> GROWTH =
      organisms(new ObjectKind<>("an object with name and kind", CultureReader::growth));
  private static final FieldKind<List<Organism>> ORGANISMS =
      organisms(new ObjectKind<>("an object with name and kind", CultureReader::organism));

  private static <T> FieldKind<List<T>> organisms(FieldKind<T> kind) {
    return new ListKind<>("organisms", MOST_ORGANISMS, kind);
  }

  Optional<UrineCulture> urine(ObjectReader culture, Faults faults) {
    Optional<LocalDate> on = dates.either(culture, "collectedAt", "collectedOn", faults);
    Optional<List<Growth>> growth = culture.required("organisms", GROWTH);
    return on.flatMap(date -> growth.map(all -> new UrineCulture(date, all)));
  }

  Optional<BloodCulture> blood(ObjectReader culture, Faults faults) {
    Optional<LocalDate> on = dates.either(culture, "collectedAt", "collectedOn", faults);
    Optional<List<Organism>> organisms = culture.required("organisms", ORGANISMS);
    Optional<Boolean> screening = culture.optional("screening", Kinds.BOOLEAN);
    return on.flatMap(
        date -> organisms.map(all -> new BloodCulture(date, all, screening.orElse(false))));
  }

  private static Optional<Growth> growth(ObjectReader line, Faults faults) {
    Optional<Organism> organism = organism(line, faults);
    Optional<ColonyCount> count = line.optional("cfuPerMl", COUNT);
    return organism.map(one -> new Growth(one, count));
  }

  private static Optional<Organism> organism(ObjectReader line, Faults faults) {
    Optional<String> name = line.required("name", Kinds.TEXT);
    Optional<OrganismKind> kind = line.required("kind", KIND);
    Optional<Organism> organism = name.flatMap(text -> kind.map(one -> new Organism(text, one)));
    organism
        .filter(Organism::contradictsItself)
        .ifPresent(
            one ->
                faults.add(
                    IssueCode.ORGANISM_OF_ANOTHER_KIND,
                    line.pathOf("kind"),
                    "Organism %s is sent as %s; expected the kind that its name tells."
                        .formatted(Quoted.text(one.name()), one.kind().code())));
    return organism;
  }
}
