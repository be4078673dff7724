package indwell.usecase.transaction;

import indwell.fhir.bundle.TakenProfile;
import indwell.fhir.map.EnteredInError;
import indwell.usecase.transaction.Entry.Verb;
import org.hl7.fhir.r4.model.Resource;

/**
 * A resource that is to be taken, as it was sent.
 *
 * @param profile the one of ours that it is to meet
 */
record Sent(Entry entry, Target target, Resource resource, TakenProfile profile) {

  /** Whether a caller takes it back by its status, as an update may. */
  boolean takenBack() {
    return entry.verb() == Verb.PUT && EnteredInError.isMarked(resource);
  }
}
