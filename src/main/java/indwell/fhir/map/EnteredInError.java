package indwell.fhir.map;

import java.util.Optional;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.DeviceUseStatement;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r4.model.Specimen;

/** What becomes of a resource that no current event makes any more. */
public final class EnteredInError {
  private EnteredInError() {}

  /**
   * The resource with its last content and status {@code entered-in-error}; empty for one that
   * stays as it is: Patient and Location by contract, Provenance because it has no status.
   */
  public static Optional<Resource> mark(Resource resource) {
    Resource marked = resource.copy();
    if (marked instanceof Encounter encounter) {
      encounter.setStatus(Encounter.EncounterStatus.ENTEREDINERROR);
    } else if (marked instanceof Device device) {
      device.setStatus(Device.FHIRDeviceStatus.ENTEREDINERROR);
    } else if (marked instanceof DeviceUseStatement use) {
      use.setStatus(DeviceUseStatement.DeviceUseStatementStatus.ENTEREDINERROR);
    } else if (marked instanceof Procedure procedure) {
      procedure.setStatus(Procedure.ProcedureStatus.ENTEREDINERROR);
    } else if (marked instanceof Observation observation) {
      observation.setStatus(Observation.ObservationStatus.ENTEREDINERROR);
    } else if (marked instanceof Specimen specimen) {
      specimen.setStatus(Specimen.SpecimenStatus.ENTEREDINERROR);
    } else {
      return Optional.empty();
    }
    return Optional.of(marked);
  }

  /** Whether the resource was marked so. */
  public static boolean isMarked(Resource resource) {
    return status(resource).filter("entered-in-error"::equals).isPresent();
  }

  private static Optional<String> status(Resource resource) {
    return Optional.ofNullable(resource.getNamedProperty("status"))
        .flatMap(status -> status.getValues().stream().findFirst())
        .map(status -> status.primitiveValue());
  }
}
