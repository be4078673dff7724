package indwell.intake;

import indwell.domain.event.InsertionFindings;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.domain.event.StatedIndication;
import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalInt;

/** How a catheter was put in, as the tree that {@link PlacingReader} reads. */
final class PlacingTree {
  private PlacingTree() {}

  static Map<String, Object> of(Placing placing) {
    Map<String, Object> tree = new LinkedHashMap<>();
    tree.put("catheterId", placing.catheter().value());
    tree.put("route", placing.route().code());
    tree.put("drainage", placing.drainage().code());
    putProduct(tree, placing.product());
    put(tree, placing.indication());
    EventTree.put(tree, "surgeryEndedAt", placing.surgeryEndedAt().map(Object::toString));
    putFindings(tree, placing.findings());
    if (!placing.steps().isEmpty()) {
      tree.put("steps", EventTree.steps(placing.steps()));
    }
    return tree;
  }

  static void put(Map<String, Object> tree, StatedIndication stated) {
    tree.put("indication", stated.code().code());
    EventTree.put(tree, "indicationText", stated.text());
  }

  private static void putProduct(Map<String, Object> tree, Product product) {
    tree.put("sizeCh", BigDecimal.valueOf(product.sizeCh()));
    EventTree.put(tree, "balloonLabelMl", product.balloonLabelMl());
    EventTree.put(tree, "material", product.material());
    putNumber(tree, "lumens", product.lumens());
    EventTree.put(tree, "lotNumber", product.lotNumber());
    EventTree.put(tree, "udi", product.udi());
    putNumber(tree, "maxDwellDays", product.maxDwellDays());
  }

  private static void putFindings(Map<String, Object> tree, InsertionFindings findings) {
    EventTree.put(tree, "balloonFilledMl", findings.balloonFilledMl());
    EventTree.put(tree, "urineReturnedMl", findings.urineReturnedMl());
    EventTree.put(tree, "specimenTaken", findings.specimenTaken());
    putNumber(tree, "attempts", findings.attempts());
    EventTree.put(tree, "insertedBeforeAdmission", findings.insertedBeforeAdmission());
  }

  private static void putNumber(Map<String, Object> tree, String name, OptionalInt number) {
    number.ifPresent(stated -> tree.put(name, BigDecimal.valueOf(stated)));
  }
}
