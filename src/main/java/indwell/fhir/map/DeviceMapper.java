package indwell.fhir.map;

import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.domain.event.Route;
import indwell.domain.timeline.Placement;
import indwell.fhir.term.LocalCodes;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Snomed;
import indwell.fhir.term.Systems;
import indwell.fhir.term.Term;
import indwell.fhir.term.Ucum;
import java.math.BigDecimal;
import java.util.Optional;
import java.util.OptionalInt;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.Device.FHIRDeviceStatus;
import org.hl7.fhir.r4.model.Quantity;

/** A catheter as a thing. */
public final class DeviceMapper {
  private DeviceMapper() {}

  /**
   * @param putIn what the placing in force last says of it; empty when it was never put in place
   */
  record Content(
      BusinessId patient, CatheterId catheter, FHIRDeviceStatus status, Optional<PutIn> putIn) {
    static Content of(BusinessId patient, CatheterId catheter, Optional<Placement> placement) {
      return new Content(
          patient,
          catheter,
          placement.map(Content::status).orElse(FHIRDeviceStatus.UNKNOWN),
          placement.map(Placement::placing).map(PutIn::of));
    }

    /** A catheter at rest is still in the patient. */
    private static FHIRDeviceStatus status(Placement placement) {
      return placement.end().isPresent() ? FHIRDeviceStatus.INACTIVE : FHIRDeviceStatus.ACTIVE;
    }
  }

  /**
   * @param product without the longest dwell, which the Device does not carry
   */
  record PutIn(Route route, Product product) {
    static PutIn of(Placing placing) {
      Product full = Bare.of(placing.product());
      return new PutIn(
          placing.route(),
          new Product(
              full.sizeCh(),
              full.balloonLabelMl(),
              full.material(),
              full.lumens(),
              full.lotNumber(),
              full.udi(),
              OptionalInt.empty()));
    }
  }

  static Device toFhir(Content catheter) {
    ResourceId id = ResourceId.device(catheter.patient(), catheter.catheter());
    Device device = Parts.claim(new Device(), id, Profiles.DEVICE);
    device.addIdentifier().setSystem(Systems.CATHETER).setValue(catheter.catheter().value());
    device.setStatus(catheter.status());
    device.setType(type(catheter.putIn()).concept());
    catheter.putIn().map(PutIn::product).ifPresent(product -> describe(device, product));
    device.setPatient(ResourceId.patient(catheter.patient()).reference());
    return device;
  }

  private static Term type(Optional<PutIn> putIn) {
    if (putIn.isEmpty()) {
      return Snomed.URINARY_CATHETER;
    }
    return switch (putIn.get().route()) {
      case URETHRAL -> Snomed.INDWELLING_CATHETER;
      case SUPRAPUBIC -> LocalCodes.SUPRAPUBIC_CATHETER;
    };
  }

  private static void describe(Device device, Product product) {
    product.udi().ifPresent(udi -> device.addUdiCarrier().setCarrierHRF(udi));
    product.lotNumber().ifPresent(device::setLotNumber);
    property(device, LocalCodes.SIZE, size(product));
    product
        .lumens()
        .ifPresent(
            lumens ->
                property(device, LocalCodes.LUMENS, Ucum.ONE.quantity(BigDecimal.valueOf(lumens))));
    product
        .balloonLabelMl()
        .ifPresent(ml -> property(device, LocalCodes.BALLOON_LABEL, Ucum.MILLILITRE.quantity(ml)));
    product
        .material()
        .ifPresent(
            material ->
                device
                    .addProperty()
                    .setType(LocalCodes.MATERIAL.concept())
                    .addValueCode(new CodeableConcept().setText(material)));
  }

  static Quantity size(Product product) {
    return Ucum.CHARRIERE.quantity(BigDecimal.valueOf(product.sizeCh()));
  }

  private static void property(Device device, Term type, Quantity value) {
    device.addProperty().setType(type.concept()).addValueQuantity(value);
  }
}
