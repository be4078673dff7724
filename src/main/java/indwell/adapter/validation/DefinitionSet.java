package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.CodeSystem;
import org.hl7.fhir.r4.model.MetadataResource;
import org.hl7.fhir.r4.model.ValueSet;

/**
 * The definitions of base R4, ours, and the validator's view of both.
 *
 * @param base of R4
 * @param own of {@code fhir-profiles}
 */
record DefinitionSet(BaseDefinitions base, OwnDefinitions own, LazyContext context) {

  /** On that groundwork; {@code fhir} is an R4 context and only read. */
  static DefinitionSet of(FhirContext fhir, List<OwnFile> files, Groundwork groundwork) {
    BaseDefinitions base = new BaseDefinitions(fhir, groundwork);
    OwnDefinitions own = new OwnDefinitions(fhir, files, groundwork);
    LazyContext context = new LazyContext(Definitions.chain(fhir, base, own), base, groundwork);
    return new DefinitionSet(base, own, context);
  }

  /**
   * With everything that the definitions say, where the groundwork of the build leaves out some.
   */
  static DefinitionSet complete(FhirContext fhir) {
    return of(fhir, OwnFile.all(), Groundwork.scanned());
  }

  /** The code systems and value sets that were asked for up to now, by type and URL. */
  List<MetadataResource> terminology() {
    return Stream.concat(base.asked().stream(), own.asked().stream())
        .filter(one -> one instanceof CodeSystem || one instanceof ValueSet)
        .map(MetadataResource.class::cast)
        .sorted(
            Comparator.comparing(MetadataResource::fhirType)
                .thenComparing(MetadataResource::getUrl))
        .toList();
  }
}
