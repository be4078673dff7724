package indwell.port;

/**
 * How far another server has been told of a resource.
 *
 * @param version newest version that is known to wait, or was sent
 * @param sentVersion newest version that the other server has taken; 0 for none
 * @param theirId the id that the resource has there; empty while that is not known
 * @param theirVersion what the other server calls the version that it has, as an entity tag; empty
 *     while that is not known
 */
public record Publication(
    ResourceKey key, int version, int sentVersion, String theirId, String theirVersion) {

  /** Whether the other server has taken any version. */
  public boolean sent() {
    return sentVersion > 0;
  }
}
