package indwell.fhir.bundle;

import java.time.Instant;
import java.util.List;
import org.hl7.fhir.r4.model.Base;
import org.hl7.fhir.r4.model.BaseDateTimeType;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.DecimalType;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.PrimitiveType;
import org.hl7.fhir.r4.model.Property;
import org.hl7.fhir.r4.model.Reference;

/**
 * Whether what was sent says nothing but what is made: times by instant, numbers by value, concepts
 * by one coding that both have. What is made may say more.
 */
final class SameMeaning {
  private SameMeaning() {}

  static boolean holds(Base sent, Base made) {
    if (sent instanceof CodeableConcept concept && made instanceof CodeableConcept other) {
      return holds(concept, other);
    }
    if (sent instanceof Coding coding && made instanceof Coding other) {
      return equal(coding.getSystem(), other.getSystem())
          && equal(coding.getCode(), other.getCode());
    }
    if (sent instanceof Reference reference && made instanceof Reference other) {
      return equal(reference.getReference(), other.getReference());
    }
    if (sent instanceof Identifier identifier && made instanceof Identifier other) {
      return equal(identifier.getSystem(), other.getSystem())
          && equal(identifier.getValue(), other.getValue());
    }
    if (sent.isPrimitive() || made.isPrimitive()) {
      return sent instanceof PrimitiveType<?> one
          && made instanceof PrimitiveType<?> other
          && holds(one, other);
    }
    return sent.fhirType().equals(made.fhirType()) && holds(sent.children(), made);
  }

  private static boolean holds(PrimitiveType<?> sent, PrimitiveType<?> made) {
    if (sent instanceof BaseDateTimeType time && made instanceof BaseDateTimeType other) {
      return time.hasValue() && other.hasValue() && instant(time).equals(instant(other));
    }
    if (sent instanceof DecimalType number && made instanceof DecimalType other) {
      return number.getValue().compareTo(other.getValue()) == 0;
    }
    return equal(sent.getValueAsString(), made.getValueAsString());
  }

  private static Instant instant(BaseDateTimeType time) {
    return time.getValue().toInstant();
  }

  private static boolean holds(CodeableConcept sent, CodeableConcept made) {
    boolean textsDiffer =
        sent.hasText() && made.hasText() && !sent.getText().equals(made.getText());
    if (textsDiffer) {
      return false;
    }
    return sent.getCoding().isEmpty()
        || sent.getCoding().stream()
            .anyMatch(one -> made.getCoding().stream().anyMatch(other -> holds(one, other)));
  }

  private static boolean holds(List<Property> sent, Base made) {
    for (Property property : sent) {
      List<Base> others = valuesOf(made, property.getName());
      for (Base value : stated(property)) {
        if (others.stream().noneMatch(other -> holds(value, other))) {
          return false;
        }
      }
    }
    return true;
  }

  /** HAPI makes an empty value where one is asked for that is not there; it says nothing. */
  static List<Base> stated(Property property) {
    return property.getValues().stream().filter(value -> !value.isEmpty()).toList();
  }

  /** The values of a property; none for one that it does not have. */
  static List<Base> valuesOf(Base base, String name) {
    return base.children().stream()
        .filter(property -> property.getName().equals(name))
        .flatMap(property -> stated(property).stream())
        .toList();
  }

  private static boolean equal(String one, String other) {
    return one == null ? other == null : one.equals(other);
  }
}
