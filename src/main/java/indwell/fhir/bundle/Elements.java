package indwell.fhir.bundle;

import java.util.List;
import org.hl7.fhir.r4.model.Base;
import org.hl7.fhir.r4.model.Property;

/** Walks the elements of a resource that was sent, each with its place. */
final class Elements {
  private Elements() {}

  /** Is shown one element after the other. */
  interface Visitor {
    /**
     * Is shown one.
     *
     * @param path within the resource, {@code location[0].period.start}
     * @return whether to go on with what stands in it
     */
    boolean visit(String path, Base element);
  }

  /** Shows all elements of a resource that are there, each before those that stand in it. */
  static void walk(Base resource, Visitor visitor) {
    walk("", resource, visitor);
  }

  private static void walk(String before, Base parent, Visitor visitor) {
    for (Property property : parent.children()) {
      List<Base> values = property.getValues();
      for (int i = 0; i < values.size(); i++) {
        String path = before + name(property, i);
        if (!values.get(i).isEmpty() && visitor.visit(path, values.get(i))) {
          walk(path + ".", values.get(i), visitor);
        }
      }
    }
  }

  private static String name(Property property, int index) {
    String name = property.getName().replace("[x]", "");
    return property.getMaxCardinality() > 1 ? name + "[" + index + "]" : name;
  }
}
