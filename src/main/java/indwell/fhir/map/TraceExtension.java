package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.rule.Trace;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Extensions;
import java.util.List;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.StringType;

/** Why a value is what it is, as an extension {@code catheter-trace}. */
public final class TraceExtension {
  private TraceExtension() {}

  /**
   * The extension: rule, source, what was found, and for each fact a reference to what its event
   * made and, in the same order, the identifier of the event.
   */
  public static Extension of(Trace trace) {
    Extension extension = new Extension(Extensions.TRACE);
    extension.addExtension("rule", new StringType(trace.rule().id()));
    extension.addExtension("source", new StringType(trace.source()));
    if (!trace.finding().isBlank()) {
      extension.addExtension("finding", new StringType(trace.finding()));
    }
    List<BedsideEvent> facts = trace.facts();
    facts.forEach(fact -> extension.addExtension("fact", ResourceId.mainOf(fact).reference()));
    facts.forEach(fact -> extension.addExtension("event", EventIdentifier.of(fact.key())));
    return extension;
  }
}
