package indwell.adapter.validation;

import indwell.adapter.validation.DefinitionFile.Slice;
import java.util.function.Function;
import org.hl7.fhir.r5.model.StructureDefinition;

/**
 * A type of base R4 in the list of all types: its name and kind at once, its elements when they are
 * asked for. The validator goes through that list for each resource and reads the elements of one.
 */
final class TypeHead extends StructureDefinition {
  private final transient Function<String, StructureDefinition> full;

  /** Without a name yet. */
  TypeHead(Function<String, StructureDefinition> full) {
    this.full = full;
    setSourcePackage(BaseDefinitions.PACKAGE);
  }

  /** Whether the definition names a type, rather than a profile or an extension. */
  static boolean isType(Slice slice) {
    String derivation = slice.first("derivation");
    return derivation.equals("specialization")
        || (derivation.isEmpty() && slice.url().equals(BaseDefinitions.BASE + slice.first("type")));
  }

  static TypeHead of(Slice slice, Function<String, StructureDefinition> full) {
    TypeHead head = new TypeHead(full);
    head.setUrl(slice.url()).setVersion(slice.first("version")).setName(slice.first("name"));
    head.setKind(StructureDefinitionKind.fromCode(slice.first("kind")));
    head.setAbstract(slice.first("abstract").equals("true")).setType(slice.first("type"));
    if (!slice.first("derivation").isEmpty()) {
      head.setBaseDefinition(slice.first("baseDefinition"));
      head.setDerivation(TypeDerivationRule.SPECIALIZATION);
    }
    return head;
  }

  /** What is known of the type without its elements. */
  StructureDefinition alone() {
    StructureDefinition alone = new StructureDefinition();
    copyValues(alone);
    return alone;
  }

  @Override
  public boolean hasSnapshot() {
    return true;
  }

  @Override
  public StructureDefinitionSnapshotComponent getSnapshot() {
    return full.apply(getUrl()).getSnapshot();
  }

  @Override
  public StructureDefinition copy() {
    return full.apply(getUrl()).copy();
  }
}
