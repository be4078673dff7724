package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import java.util.ArrayList;
import java.util.List;
import org.hl7.fhir.instance.model.api.IBaseResource;
import org.hl7.fhir.r4.model.StructureDefinition;

/** Our profiles with their snapshots, for those who cannot complete a differential themselves. */
public final class CompletedProfiles {
  private CompletedProfiles() {}

  /** All of them, in the order of the index. */
  public static List<StructureDefinition> of(FhirContext fhir) {
    LazyContext context = DefinitionSet.complete(fhir).context();
    List<StructureDefinition> completed = new ArrayList<>();
    for (IBaseResource one : ProfileFiles.load(fhir)) {
      if (one instanceof StructureDefinition profile) {
        completed.add((StructureDefinition) context.withSnapshot(profile));
      }
    }
    return completed;
  }
}
