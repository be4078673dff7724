package indwell.port;

import java.time.Instant;
import java.util.List;
import java.util.Set;

/**
 * What somebody wants exported (FHIR Bulk Data 3.0.0, kick-off request).
 *
 * @param scope whose data
 * @param groupId id of the Group for the scope of that name, else empty
 * @param types the resource types, each once; never all of them by silence
 * @param typeFilters searches as they were asked, {@code Procedure?code=...}
 * @param patientIds only these patients; empty means all of the scope
 * @param since only what changed after this; {@link Instant#MIN} for everything
 * @param until only what changed before this; {@link Instant#MAX} for everything
 * @param client whose it is; empty for anybody
 * @param separateStatus whether the status of the export has a header of its own
 * @param base absolute URL of {@code /fhir} as the caller knew it
 * @param url the whole URL of the kick-off request
 * @param remarks sentences about what of the request was passed over at the caller's wish
 */
public record ExportOrder(
    Scope scope,
    String groupId,
    List<String> types,
    List<String> typeFilters,
    Set<String> patientIds,
    Instant since,
    Instant until,
    String client,
    boolean separateStatus,
    String base,
    String url,
    List<String> remarks) {
  public ExportOrder {
    types = List.copyOf(types);
    typeFilters = List.copyOf(typeFilters);
    patientIds = Set.copyOf(patientIds);
    remarks = List.copyOf(remarks);
  }

  /** Whose data is exported. */
  public enum Scope {
    /** Everything. */
    SYSTEM,
    /** What belongs to patients, and what helps to read it. */
    PATIENT,
    /** The same for the members of a Group. */
    GROUP
  }
}
