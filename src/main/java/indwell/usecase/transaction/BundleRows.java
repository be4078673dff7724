package indwell.usecase.transaction;

import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Origin;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import indwell.usecase.transaction.Entry.Verb;
import indwell.usecase.transaction.Preparation.Prepared;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/** The rows of the audit trail of what a transaction took: one an entry. */
final class BundleRows {
  private final Origin origin;
  private final Instant at;

  private BundleRows(Origin origin, Instant at) {
    this.origin = origin;
    this.at = at;
  }

  static List<AuditEntry> of(
      Reading state, Prepared prepared, List<Answer> answers, Origin origin, Instant at) {
    BundleRows rows = new BundleRows(origin, at);
    Map<Integer, Verb> verbs =
        prepared.taken().stream()
            .map(Taken::entry)
            .collect(Collectors.toMap(Entry::index, Entry::verb));
    List<AuditEntry> all = new ArrayList<>();
    for (Answer answer : answers) {
      Optional.ofNullable(verbs.get(answer.index()))
          .ifPresent(
              verb ->
                  all.add(
                      rows.row(
                          verb == Verb.POST || answer.status() == 201
                              ? Interaction.CREATE
                              : Interaction.UPDATE,
                          answer.resource(),
                          answer.status())));
    }
    all.addAll(rows.deleted(state, prepared.deletions()));
    return all;
  }

  /** What is deleted stands there as entered in error. */
  private List<AuditEntry> deleted(Reading state, List<Deletion> deletions) {
    if (deletions.isEmpty()) {
      return List.of();
    }
    List<ResourceKey> keys =
        deletions.stream().flatMap(one -> one.id().stream()).map(Known::key).toList();
    Map<ResourceKey, StoredResource> stored = state.resources(keys);
    return deletions.stream()
        .map(one -> one.id().flatMap(id -> Optional.ofNullable(stored.get(Known.key(id)))))
        .map(resource -> row(Interaction.DELETE, resource, 204))
        .toList();
  }

  private AuditEntry row(Interaction interaction, Optional<StoredResource> resource, int status) {
    return new AuditEntry(
        at,
        origin,
        interaction,
        resource
            .map(StoredResource::key)
            .filter(key -> !key.type().equals("Patient"))
            .map(ResourceKey::reference),
        resource.map(BundleRows::patient).filter(id -> !id.isEmpty()),
        "",
        status,
        Optional.empty());
  }

  private static String patient(StoredResource resource) {
    return resource.key().type().equals("Patient") ? resource.key().id() : resource.patientId();
  }
}
