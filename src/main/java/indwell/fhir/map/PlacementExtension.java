package indwell.fhir.map;

import indwell.domain.event.Drainage;
import indwell.domain.event.InsertionFindings;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.domain.event.Route;
import indwell.fhir.term.Extensions;
import indwell.fhir.term.Ucum;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalInt;
import org.hl7.fhir.r4.model.BooleanType;
import org.hl7.fhir.r4.model.CodeType;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.IntegerType;
import org.hl7.fhir.r4.model.PositiveIntType;
import org.hl7.fhir.r4.model.PrimitiveType;
import org.hl7.fhir.r4.model.Quantity;
import org.hl7.fhir.r4.model.StringType;
import org.hl7.fhir.r4.model.Type;

/**
 * What was put in and how, as the extension {@code catheter-placement} of the Procedure: all that
 * no element of Procedure holds. It stays as it was stated, whatever becomes of the Device.
 */
final class PlacementExtension {
  private static final String ROUTE = "route";
  private static final String DRAINAGE = "drainage";
  private static final String SIZE = "sizeCh";
  private static final String BALLOON_LABEL = "balloonLabel";
  private static final String MAX_DWELL = "maxDwellDays";
  private static final String SURGERY_ENDED = "surgeryEndedAt";
  private static final String MATERIAL = "material";
  private static final String LUMENS = "lumens";
  private static final String LOT = "lotNumber";
  private static final String UDI = "udi";
  private static final String ATTEMPTS = "attempts";
  private static final String BEFORE_ADMISSION = "insertedBeforeAdmission";
  private static final String SPECIMEN_TAKEN = "specimenTaken";

  private PlacementExtension() {}

  static Extension toFhir(Placing placing, MappingContext context) {
    Extension extension = new Extension(Extensions.PLACEMENT);
    extension.addExtension(ROUTE, new CodeType(placing.route().code()));
    extension.addExtension(DRAINAGE, new CodeType(placing.drainage().code()));
    addProduct(extension, placing.product());
    add(extension, SURGERY_ENDED, placing.surgeryEndedAt().map(context::dateTime));
    addFindings(extension, placing.findings());
    return extension;
  }

  private static void addProduct(Extension extension, Product product) {
    extension.addExtension(SIZE, DeviceMapper.size(product));
    add(extension, BALLOON_LABEL, product.balloonLabelMl().map(Ucum.MILLILITRE::quantity));
    addNumber(extension, MAX_DWELL, product.maxDwellDays());
    add(extension, MATERIAL, product.material().map(StringType::new));
    addNumber(extension, LUMENS, product.lumens());
    add(extension, LOT, product.lotNumber().map(StringType::new));
    add(extension, UDI, product.udi().map(StringType::new));
  }

  private static void addFindings(Extension extension, InsertionFindings findings) {
    addNumber(extension, ATTEMPTS, findings.attempts());
    add(extension, BEFORE_ADMISSION, findings.insertedBeforeAdmission().map(BooleanType::new));
    add(extension, SPECIMEN_TAKEN, findings.specimenTaken().map(BooleanType::new));
  }

  private static void add(Extension extension, String part, Optional<? extends Type> value) {
    value.ifPresent(stated -> extension.addExtension(part, stated));
  }

  private static void addNumber(Extension extension, String part, OptionalInt value) {
    value.ifPresent(stated -> extension.addExtension(part, new PositiveIntType(stated)));
  }

  static Route route(Extension extension) {
    return text(extension, ROUTE).flatMap(Route::ofCode).orElseThrow();
  }

  static Drainage drainage(Extension extension) {
    return text(extension, DRAINAGE).flatMap(Drainage::ofCode).orElseThrow();
  }

  static Product product(Extension extension) {
    return new Product(
        quantity(extension, SIZE).orElseThrow().intValueExact(),
        quantity(extension, BALLOON_LABEL),
        text(extension, MATERIAL),
        number(extension, LUMENS),
        text(extension, LOT),
        text(extension, UDI),
        number(extension, MAX_DWELL));
  }

  static Optional<Instant> surgeryEndedAt(Extension extension) {
    return value(extension, SURGERY_ENDED).map(PatientResources::instant);
  }

  /** The findings, with the volumes that observations carry. */
  static InsertionFindings findings(
      Extension extension, Optional<BigDecimal> balloonMl, Optional<BigDecimal> urineMl) {
    return new InsertionFindings(
        balloonMl,
        urineMl,
        flag(extension, SPECIMEN_TAKEN),
        number(extension, ATTEMPTS),
        flag(extension, BEFORE_ADMISSION));
  }

  private static Optional<Type> value(Extension extension, String part) {
    return Optional.ofNullable(extension.getExtensionByUrl(part)).map(Extension::getValue);
  }

  private static Optional<String> text(Extension extension, String part) {
    return value(extension, part).map(value -> ((PrimitiveType<?>) value).getValueAsString());
  }

  private static Optional<Boolean> flag(Extension extension, String part) {
    return value(extension, part).map(value -> ((BooleanType) value).booleanValue());
  }

  private static Optional<BigDecimal> quantity(Extension extension, String part) {
    return value(extension, part).map(value -> ((Quantity) value).getValue());
  }

  private static OptionalInt number(Extension extension, String part) {
    Optional<Type> value = value(extension, part);
    return value.isPresent()
        ? OptionalInt.of(((IntegerType) value.get()).getValue())
        : OptionalInt.empty();
  }
}
