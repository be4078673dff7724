package indwell.adapter.validation;

import java.util.function.BiFunction;
import java.util.function.Function;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.MetadataResource;
import org.jspecify.annotations.Nullable;

/**
 * What packing has to know of the elements of a version of FHIR. The library has two versions,
 * which say the same by different classes: it looks up terminology in R4 and validates by R5.
 *
 * @param <B> the class of all elements and resources
 * @param children of an element or a resource, in the order of the model
 * @param type of an element; a part of another has a full stop in it
 * @param text of a primitive element; nothing of others, and of those without a value
 * @param create an empty element of a data type
 * @param value puts a text into a primitive element
 * @param part gives an element an empty part of that name
 * @param set gives an element a child
 */
record PackedModel<B>(
    Function<B, Stream<Child<B>>> children,
    Function<B, String> type,
    Function<B, @Nullable String> text,
    Function<String, B> create,
    BiFunction<B, String, B> value,
    BiFunction<B, String, B> part,
    Setter<B> set) {

  static final PackedModel<org.hl7.fhir.r4.model.Base> R4 =
      new PackedModel<>(
          parent ->
              Stream.concat(
                  head(parent),
                  parent.children().stream()
                      .flatMap(
                          all -> all.getValues().stream().map(one -> child(all.getName(), one)))),
          org.hl7.fhir.r4.model.Base::fhirType,
          one -> one.isPrimitive() ? one.primitiveValue() : null,
          org.hl7.fhir.r4.model.ResourceFactory::createType,
          (element, text) -> {
            ((org.hl7.fhir.r4.model.PrimitiveType<?>) element).setValueAsString(text);
            return element;
          },
          org.hl7.fhir.r4.model.Base::addChild,
          (parent, name, child) -> parent.setProperty(name.hashCode(), name, child));

  static final PackedModel<org.hl7.fhir.r5.model.Base> R5 =
      new PackedModel<>(
          parent ->
              parent.children().stream()
                  .flatMap(all -> all.getValues().stream().map(one -> child(all.getName(), one))),
          org.hl7.fhir.r5.model.Base::fhirType,
          one -> one.isPrimitive() ? one.primitiveValue() : null,
          org.hl7.fhir.r5.model.ResourceFactory::createType,
          (element, text) -> {
            ((org.hl7.fhir.r5.model.PrimitiveType<?>) element).setValueAsString(text);
            return element;
          },
          org.hl7.fhir.r5.model.Base::addChild,
          (parent, name, child) -> parent.setProperty(name.hashCode(), name, child));

  /** A child by the name that it is set by: {@code value} for {@code value[x]}. */
  record Child<B>(String name, B element) {}

  /** Gives an element a child. */
  @FunctionalInterface
  interface Setter<B> {
    B give(B parent, String name, B child);
  }

  private static <B> Child<B> child(String name, B element) {
    return new Child<>(name.replace("[x]", ""), element);
  }

  /** What R4's classes of code systems and value sets do not give among their children. */
  private static Stream<Child<org.hl7.fhir.r4.model.Base>> head(org.hl7.fhir.r4.model.Base parent) {
    if (!(parent instanceof MetadataResource resource)) {
      return Stream.empty();
    }
    Stream<Child<org.hl7.fhir.r4.model.Base>> head =
        Stream.of(
                child("id", (org.hl7.fhir.r4.model.Base) resource.getIdElement()),
                child("meta", (org.hl7.fhir.r4.model.Base) resource.getMeta()),
                child("language", (org.hl7.fhir.r4.model.Base) resource.getLanguageElement()))
            .filter(one -> !one.element().isEmpty());
    return Stream.concat(
        head, resource.getExtension().stream().map(one -> child("extension", one)));
  }

  /** Whether an element is a part of its parent and of no data type. */
  boolean isPart(B element) {
    return type.apply(element).indexOf('.') >= 0;
  }
}
