package indwell.web.fhir;

import indwell.port.ClinicalStore;
import indwell.usecase.audit.AuditTrail;
import indwell.web.access.AccessMode;

/** The FHIR interface over a store and a trail, for whoever is no neighbour of it. */
public final class ReadServer implements AutoCloseable {
  private final FhirServer server;

  /** On a free port; asks nobody who they are. */
  public ReadServer(ClinicalStore store, AuditTrail trail) throws Exception {
    server = new FhirServer(new AccessMode.Development(), store, trail);
  }

  /** Address of the FHIR interface. */
  public String base() {
    return server.base();
  }

  @Override
  public void close() throws Exception {
    server.close();
  }
}
