package indwell.usecase.transaction;

import indwell.domain.refusal.IssueCode;
import indwell.fhir.bundle.TakenProfile;
import indwell.fhir.map.ResourceId;
import java.util.List;
import java.util.Optional;
import org.hl7.fhir.r4.model.Resource;

/**
 * A resource that is to be taken back.
 *
 * @param id empty when a condition matched nothing
 */
record Deletion(Entry entry, Optional<ResourceId> id) {

  static Deletion of(Entry entry, String base, References references) {
    Target target = Target.of(entry, base);
    EntryReader.requireTaken(entry, target);
    if (target.id().isPresent()) {
      return new Deletion(entry, target.id().map(id -> new ResourceId(target.type(), id)));
    }
    Token token =
        target
            .condition()
            .orElseThrow(
                () ->
                    entry.refused(
                        400,
                        IssueCode.BAD_BUNDLE,
                        "request.url",
                        "URL "
                            + Words.shown(entry.url())
                            + " names no resource; expected an id or ?identifier=system|value."));
    List<ResourceId> found = List.copyOf(references.matching(target.type(), token));
    if (found.size() > 1) {
      throw entry.refused(
          412,
          IssueCode.NO_SINGLE_MATCH,
          "request.url",
          "Condition matches more than one resource; expected one at most.");
    }
    return new Deletion(entry, found.stream().findFirst());
  }

  /** The profile of what is deleted; only that which is of an event can be. */
  static TakenProfile profile(Entry entry, Resource stored) {
    return TakenProfile.of(stored)
        .filter(one -> one.role() != TakenProfile.Role.FOLLOWS)
        .orElseThrow(
            () ->
                entry.refused(
                    405,
                    IssueCode.NOT_DELETABLE,
                    "request.url",
                    "This "
                        + stored.fhirType()
                        + " follows from events and cannot be deleted; expected the deletion of"
                        + " what makes it."));
  }
}
