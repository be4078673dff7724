package indwell.port;

import org.hl7.fhir.r4.model.Resource;

/**
 * Another FHIR server (R4) that is told of the record. Nothing is thrown for what that server, or
 * the way to it, does: it is an answer. Implementations are safe for use by many threads.
 */
public interface Upstream {

  /** Puts a resource there, by its id or by what it is found by. */
  UpstreamAnswer put(Sending sending);

  /** Reads a resource there. */
  UpstreamAnswer read(String type, String id);

  /**
   * The first page of what is found there.
   *
   * @param criterion search parameters, encoded for an address
   */
  UpstreamAnswer search(String type, String criterion);

  /**
   * The page after one that was given.
   *
   * @param address as the server gave it; one at another server is not asked
   */
  UpstreamAnswer page(String address);

  /**
   * What is sent.
   *
   * @param id the id that the resource has there; empty when {@code criterion} finds it
   * @param criterion search parameters that find it, encoded for an address; empty when its id is
   *     known
   * @param ifVersion entity tag of the version that the server is known to have; empty when that is
   *     not known
   */
  record Sending(Resource resource, String id, String criterion, String ifVersion) {}
}
