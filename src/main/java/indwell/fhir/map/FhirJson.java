package indwell.fhir.map;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.parser.DataFormatException;
import ca.uhn.fhir.parser.IParser;
import ca.uhn.fhir.parser.StrictErrorHandler;
import org.hl7.fhir.r4.model.Resource;

/** Resources as JSON text and back. Safe for use by many threads: each call has its own parser. */
public final class FhirJson {
  /** System of the tag of a resource that is not whole. */
  public static final String PART_SYSTEM =
      "http://terminology.hl7.org/CodeSystem/v3-ObservationValue";

  /** Code of the tag of a resource that is not whole. */
  public static final String PART = "SUBSETTED";

  private static final FhirContext CONTEXT = FhirContext.forR4Cached();

  static {
    // Our references name what they refer to, so that no resource is looked through for some that
    // have to be put into it; that took a quarter of the time.
    CONTEXT.getParserOptions().setAutoContainReferenceTargetsWithNoId(false);
  }

  private FhirJson() {}

  /** The one FHIR context of the process; dear to make, so it is shared. */
  public static FhirContext context() {
    return CONTEXT;
  }

  /** Compact JSON, one line. Equal resources give equal texts. */
  public static String encode(Resource resource) {
    return parser().encodeResourceToString(resource);
  }

  /** The same text of a resource that was made of events, in less time. */
  public static String encodeMapped(Resource resource) {
    return MappedJson.of(resource);
  }

  /**
   * Reads a resource.
   *
   * @throws DataFormatException if it is no JSON of an R4 resource, or has elements that R4 does
   *     not have, or gives an element another shape than R4 does
   */
  public static Resource parse(String json) {
    try {
      return (Resource)
          parser().setParserErrorHandler(new StrictErrorHandler()).parseResource(json);
    } catch (DataFormatException unreadable) {
      throw unreadable;
    } catch (RuntimeException | StackOverflowError shape) {
      // HAPI's parser trusts that an object stands where R4 has one, an extension above all; and
      // it reads a narrative by recursion.
      throw new DataFormatException("An element has not the shape that FHIR R4 gives it", shape);
    }
  }

  /** Whether a resource says that it is only a part of one (FHIR R4, search.html#summary). */
  public static boolean isPart(Resource resource) {
    return resource.getMeta().getTag(PART_SYSTEM, PART) != null;
  }

  private static IParser parser() {
    return CONTEXT.newJsonParser().setPrettyPrint(false);
  }
}
