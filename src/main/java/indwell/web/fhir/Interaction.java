package indwell.web.fhir;

import indwell.access.Need;
import indwell.web.HttpAnswer;
import java.util.List;

/** One thing that can be done under {@code /fhir}. */
interface Interaction {
  /** Where it is found. */
  Route route();

  /**
   * What a caller has to be given to ask for it; empty for what everybody may ask. What turns out
   * to be needed only while it is done, such as the types that a search follows references to, is
   * asked for there.
   */
  List<Need> needs(FhirRequest request);

  /** Does it; waits for the store where it must. */
  HttpAnswer answer(FhirRequest request) throws FhirRefusal;

  /** Adds itself to the CapabilityStatement. */
  void describe(Capabilities capabilities);

  /** Whether a HEAD is answered as a GET is; not where a GET begins something. */
  default boolean answersHead() {
    return true;
  }

  /** Media types of the bodies that it reads. */
  default List<String> consumes() {
    return Negotiation.JSON_TYPES;
  }

  /** Media types of bodies of any length that it takes line by line. */
  default List<String> consumesLines() {
    return List.of();
  }

  /**
   * Begins to take such a body, of which nothing has been read.
   *
   * @throws FhirRefusal for what is wrong with the request already
   */
  default LineTaker lines(FhirRequest request) {
    throw new IllegalStateException("This takes no lines");
  }

  /** Media types that it can answer with, the preferred one first. */
  default List<String> produces() {
    return Negotiation.JSON_TYPES;
  }
}
