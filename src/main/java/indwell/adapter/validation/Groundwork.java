package indwell.adapter.validation;

import indwell.adapter.validation.DefinitionFile.Slice;
import java.util.List;
import java.util.function.Function;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.jspecify.annotations.Nullable;

/** What has to be known of the definitions before the first resource can be validated. */
interface Groundwork {

  /** Where each definition of base R4 stands, in the order in which the library reads them. */
  List<Slice> slices();

  /**
   * The types of base R4.
   *
   * @param full gives the whole definition with a URL
   */
  List<TypeHead> types(Function<String, StructureDefinition> full);

  /**
   * A structure that is ready to be used; nothing where it has to be prepared first.
   *
   * @param canonical URL, or URL and version, or name of a type
   */
  @Nullable StructureDefinition structure(String canonical);

  /**
   * A code system or value set; nothing where it has to be parsed.
   *
   * @param type of resource
   * @param url canonical, without a version
   */
  @Nullable Resource terminology(String type, String url);

  /** By what a resource is known among those of all types. */
  static String key(String type, String canonical) {
    return type + " " + canonical;
  }

  /** Laid by reading through all of base R4, with no structure ready. */
  static Groundwork scanned() {
    List<Slice> slices = BaseDefinitions.scan();
    return new Groundwork() {
      @Override
      public List<Slice> slices() {
        return slices;
      }

      @Override
      public List<TypeHead> types(Function<String, StructureDefinition> full) {
        return slices.stream()
            .filter(slice -> slice.type().equals(BaseDefinitions.STRUCTURE))
            .filter(TypeHead::isType)
            .map(slice -> TypeHead.of(slice, full))
            .toList();
      }

      @Override
      public @Nullable StructureDefinition structure(String canonical) {
        return null;
      }

      @Override
      public @Nullable Resource terminology(String type, String url) {
        return null;
      }
    };
  }
}
