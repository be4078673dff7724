package indwell.fhir.search;

import indwell.fhir.term.Extensions;
import java.util.List;
import org.hl7.fhir.r4.model.AuditEvent;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.DeviceUseStatement;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Flag;
import org.hl7.fhir.r4.model.Location;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Patient;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Provenance;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r4.model.Specimen;

/**
 * Reads from a resource what it can be found by, type by type, by hand: these are the parameters of
 * {@link SearchParameters} save those that are kept for every resource (id, time of writing,
 * identifiers, patient).
 */
public final class SearchValues {
  /** Raised when a release reads other values than the one before: stores are then read anew. */
  public static final int VERSION = 1;

  private SearchValues() {}

  /** The values, each once; none for a type that is not searched. */
  public static List<SearchValue> of(Resource resource) {
    ValueList values = new ValueList();
    if (resource instanceof Encounter encounter) {
      read(encounter, values);
    } else if (resource instanceof Location location) {
      read(location, values);
    } else if (resource instanceof Device device) {
      values.code("status", device.getStatusElement()).concept("type", device.getType());
    } else if (resource instanceof DeviceUseStatement use) {
      read(use, values);
    } else if (resource instanceof Procedure procedure) {
      read(procedure, values);
    } else if (resource instanceof Observation observation) {
      read(observation, values);
    } else if (resource instanceof Specimen specimen) {
      read(specimen, values);
    } else if (resource instanceof Provenance provenance) {
      read(provenance, values);
    } else if (resource instanceof Flag flag) {
      read(flag, values);
    } else if (resource instanceof AuditEvent event) {
      read(event, values);
    } else if (!(resource instanceof Patient)) {
      return List.of();
    }
    return values.distinct();
  }

  private static void read(Encounter encounter, ValueList values) {
    values
        .code("status", encounter.getStatusElement())
        .coding("class", encounter.getClass_())
        .time("date", encounter.getPeriod());
    for (Encounter.EncounterLocationComponent stay : encounter.getLocation()) {
      values.reference("location", stay.getLocation()).time("location-period", stay.getPeriod());
    }
  }

  private static void read(Location location, ValueList values) {
    values.code("status", location.getStatusElement()).text("name", location.getName());
    location.getAlias().forEach(alias -> values.text("name", alias.getValue()));
    location.getType().forEach(type -> values.concept("type", type));
  }

  private static void read(DeviceUseStatement use, ValueList values) {
    values
        .code("status", use.getStatusElement())
        .time("period", use.getTiming())
        .reference("device", use.getDevice());
  }

  private static void read(Procedure procedure, ValueList values) {
    values
        .code("status", procedure.getStatusElement())
        .concept("code", procedure.getCode())
        .time("date", procedure.getPerformed())
        .reference("encounter", procedure.getEncounter())
        .reference("location", procedure.getLocation());
    procedure.getReasonCode().forEach(reason -> values.concept("reason-code", reason));
    procedure
        .getFocalDevice()
        .forEach(device -> values.reference("focal-device", device.getManipulated()));
  }

  private static void read(Observation observation, ValueList values) {
    values
        .code("status", observation.getStatusElement())
        .concept("code", observation.getCode())
        .time("date", observation.getEffective())
        .reference("encounter", observation.getEncounter());
    observation.getCategory().forEach(category -> values.concept("category", category));
    observation.getFocus().forEach(focus -> values.reference("focus", focus));
    observation.getPartOf().forEach(whole -> values.reference("part-of", whole));
    observation.getDerivedFrom().forEach(source -> values.reference("derived-from", source));
  }

  private static void read(Specimen specimen, ValueList values) {
    values
        .code("status", specimen.getStatusElement())
        .concept("type", specimen.getType())
        .time("collected", specimen.getCollection().getCollected());
  }

  private static void read(Provenance provenance, ValueList values) {
    values.time("recorded", provenance.getRecordedElement()).time("when", provenance.getOccurred());
    provenance.getTarget().forEach(target -> values.reference("target", target));
  }

  private static void read(AuditEvent event, ValueList values) {
    values
        .time("date", event.getRecordedElement())
        .coding("type", event.getType())
        .code("action", event.getActionElement())
        .code("outcome", event.getOutcomeElement());
    event.getSubtype().forEach(subtype -> values.coding("subtype", subtype));
    for (AuditEvent.AuditEventAgentComponent agent : event.getAgent()) {
      values.identity("altid", agent.getAltId()).text("address", agent.getNetwork().getAddress());
    }
    event.getEntity().forEach(entity -> values.reference("entity", entity.getWhat()));
  }

  private static void read(Flag flag, ValueList values) {
    values
        .code("status", flag.getStatusElement())
        .concept("code", flag.getCode())
        .time("date", flag.getPeriod());
    flag.getCategory().forEach(category -> values.concept("category", category));
    flag.getExtensionsByUrl(Extensions.FLAG_DETAIL)
        .forEach(detail -> values.reference("focus-device", detail.getValue()));
  }
}
