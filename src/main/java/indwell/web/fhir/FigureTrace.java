package indwell.web.fhir;

import indwell.domain.rule.RuleId;
import indwell.domain.surveillance.WardMonth;
import indwell.fhir.term.Extensions;
import indwell.fhir.term.Systems;
import java.util.List;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.StringType;

/**
 * Why a figure is what it is: the rule with its source, the values that went into it, and the facts
 * they come from. Written as the extension {@code catheter-trace} on the figure.
 *
 * @param finding one sentence with values and units
 */
record FigureTrace(RuleId rule, String source, String finding, List<Fact> facts) {
  FigureTrace {
    facts = List.copyOf(facts);
  }

  /** A trace with the source of the rule itself. */
  static FigureTrace of(RuleId rule, String finding, List<Fact> facts) {
    return new FigureTrace(rule, rule.source(), finding, facts);
  }

  /** Where a value comes from. */
  sealed interface Fact permits CountedWard, SuppliedFacts {
    Reference reference();
  }

  /** Indwell's own count of a ward. */
  record CountedWard(String code) implements Fact {
    @Override
    public Reference reference() {
      return new Reference("Location/" + code);
    }
  }

  /** A version of what people supplied for a ward and month. */
  record SuppliedFacts(WardMonth month, int version) implements Fact {
    @Override
    public Reference reference() {
      return new Reference()
          .setIdentifier(
              new Identifier()
                  .setSystem(Systems.SURVEILLANCE_FACTS)
                  .setValue(month.path() + "/" + version))
          .setDisplay("Facts of ward " + month.ward().code() + ", " + month.month());
    }
  }

  Extension extension() {
    Extension extension = new Extension(Extensions.TRACE);
    extension.addExtension("rule", new StringType(rule.id()));
    extension.addExtension("source", new StringType(source));
    extension.addExtension("finding", new StringType(finding));
    facts.forEach(fact -> extension.addExtension("fact", fact.reference()));
    return extension;
  }
}
