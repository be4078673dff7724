package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import indwell.adapter.validation.DefinitionFile.Slice;
import java.util.Collection;
import java.util.List;
import org.hl7.fhir.r4.model.CodeSystem;
import org.hl7.fhir.r4.model.CodeSystem.ConceptDefinitionComponent;
import org.hl7.fhir.r4.model.MetadataResource;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.StructureDefinition;

/**
 * Makes, when the program is built, what a validator then need not work out each time that it is
 * opened: preparing the definitions that our profiles reach takes most of a start.
 */
public final class GroundworkPacking {
  /** Where on the class path a validator looks for it. */
  public static final String PATH = "indwell/groundwork.bin";

  private GroundworkPacking() {}

  /**
   * What belongs at {@link #PATH}; the same definitions always give the same bytes.
   *
   * @param fhir an R4 context; it is only read
   */
  public static byte[] of(FhirContext fhir) {
    Groundwork scanned = Groundwork.scanned();
    List<OwnFile> files = OwnFile.all();
    DefinitionSet definitions = DefinitionSet.of(fhir, files, scanned);
    new HapiProfileValidator(definitions.context(), files, 1).warmUp();
    return pack(
        OwnFile.fingerprint(files),
        scanned,
        definitions.context().structures().values(),
        definitions.terminology());
  }

  /**
   * Packs a groundwork and structures that were prepared on it.
   *
   * @param profiles what tells our profiles from others
   * @param terminology code systems and value sets that were parsed
   */
  static byte[] pack(
      String profiles,
      Groundwork groundwork,
      Collection<StructureDefinition> structures,
      Collection<MetadataResource> terminology) {
    PackedWriter out = new PackedWriter();
    out.text(profiles);
    out.number(groundwork.slices().size());
    groundwork.slices().forEach(slice -> pack(out, slice));
    out.block(block -> packTypes(block, groundwork));
    out.number(structures.size());
    for (StructureDefinition structure : structures) {
      out.text(structure.getUrl());
      out.text(structure.getVersion());
      out.block(block -> block.children(PackedModel.R5, withoutProse(structure)));
    }
    out.number(terminology.size());
    for (MetadataResource one : terminology) {
      out.text(Groundwork.key(one.fhirType(), one.getUrl()));
      out.block(block -> block.children(PackedModel.R4, withoutProse(one)));
    }
    return out.bytes();
  }

  private static void pack(PackedWriter out, Slice slice) {
    out.text(slice.file().name());
    out.text(slice.type());
    out.text(slice.url());
    out.number(slice.start());
    out.number(slice.end());
  }

  private static void packTypes(PackedWriter out, Groundwork groundwork) {
    List<TypeHead> heads =
        groundwork.types(
            url -> {
              throw new IllegalStateException("Only the head of a type is packed.");
            });
    out.number(heads.size());
    heads.forEach(head -> out.children(PackedModel.R5, head.alone()));
  }

  /** Without what tells people about elements, and no validator looks at. */
  static StructureDefinition withoutProse(StructureDefinition structure) {
    StructureDefinition plain = structure.copy();
    plain.setText(null);
    plain.setMapping(null).setContact(null).setDifferential(null);
    plain.setDescriptionElement(null).setPurposeElement(null);
    plain.getSnapshot().getElement().forEach(GroundworkPacking::leaveOutProse);
    return plain;
  }

  private static void leaveOutProse(ElementDefinition element) {
    element.setMapping(null).setAlias(null).setExample(null);
    element.setDefinitionElement(null).setCommentElement(null).setRequirementsElement(null);
  }

  /** Without what tells people about a code, and no validator looks at. */
  static MetadataResource withoutProse(MetadataResource terminology) {
    MetadataResource plain = terminology.copy();
    plain.setText(null);
    plain.setContact(null).setDescriptionElement(null);
    if (plain instanceof CodeSystem system) {
      leaveOutProse(system.getConcept());
    }
    return plain;
  }

  private static void leaveOutProse(List<ConceptDefinitionComponent> concepts) {
    for (ConceptDefinitionComponent concept : concepts) {
      concept.setDefinitionElement(null);
      leaveOutProse(concept.getConcept());
    }
  }
}
