package indwell.port;

/**
 * Type and id of a FHIR resource.
 *
 * @param type resource type, {@code Procedure}
 * @param id logical id
 */
public record ResourceKey(String type, String id) implements Comparable<ResourceKey> {
  @Override
  public int compareTo(ResourceKey other) {
    int byType = type.compareTo(other.type);
    return byType != 0 ? byType : id.compareTo(other.id);
  }

  /** The relative reference, {@code Procedure/abc}. */
  public String reference() {
    return type + "/" + id;
  }
}
