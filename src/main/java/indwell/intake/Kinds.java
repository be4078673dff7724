package indwell.intake;

import indwell.domain.event.BusinessId;
import indwell.domain.event.CareItem;
import indwell.domain.event.Drainage;
import indwell.domain.event.EventType;
import indwell.domain.event.Indication;
import indwell.domain.event.InsertionStep;
import indwell.domain.event.Route;
import indwell.domain.event.SpecimenPurpose;
import indwell.domain.event.StepResult;
import java.math.BigDecimal;
import java.util.Map;

/** The kinds of field that events have (contract, section 2): every bound stands here once. */
final class Kinds {
  static final FieldKind<String> SOURCE = new AsciiKind("._-", 64, false);
  static final FieldKind<String> EVENT_ID = new AsciiKind("._:/-", 128, false);
  static final FieldKind<String> WARD = new AsciiKind(".-", 64, true);
  static final FieldKind<String> TEXT = new TextKind(128);
  static final FieldKind<String> LONG_TEXT = new TextKind(500);
  static final FieldKind<String> URI = new UriKind();
  static final FieldKind<BusinessId> IDENTIFIER = new IdentifierKind();
  static final FieldKind<Boolean> BOOLEAN = new BooleanKind();

  static final FieldKind<Integer> VERSION = WholeNumberKind.of("Version", "", 1, Integer.MAX_VALUE);
  static final FieldKind<Integer> SIZE = WholeNumberKind.of("Catheter size", "Ch", 6, 30);
  static final FieldKind<Integer> LUMENS = WholeNumberKind.of("Number of lumens", "", 1, 4);
  static final FieldKind<Integer> ATTEMPTS = WholeNumberKind.of("Number of attempts", "", 1, 20);
  static final FieldKind<Integer> DWELL = WholeNumberKind.of("Longest dwell", "days", 1, 365);

  static final FieldKind<BigDecimal> BALLOON_LABEL =
      DecimalKind.of("Balloon volume on the label", "mL", "0", "100");
  static final FieldKind<BigDecimal> BALLOON_FILL =
      DecimalKind.of("Balloon fill", "mL", "0", "100");
  static final FieldKind<BigDecimal> URINE_RETURNED =
      DecimalKind.of("Urine returned", "mL", "0", "20000");
  static final FieldKind<BigDecimal> URINE = DecimalKind.of("Urine volume", "mL", "0", "20000");
  static final FieldKind<BigDecimal> WEIGHT = DecimalKind.of("Body weight", "kg", "0.2", "700");

  static final FieldKind<EventStatus> STATUS =
      new CodeKind<>(EventStatus.values(), EventStatus::code);
  static final FieldKind<EventType> TYPE = new CodeKind<>(EventType.values(), EventType::code);
  static final FieldKind<Route> ROUTE = new CodeKind<>(Route.values(), Route::code);
  static final FieldKind<Drainage> DRAINAGE = new CodeKind<>(Drainage.values(), Drainage::code);
  static final FieldKind<Indication> INDICATION =
      new CodeKind<>(Indication.values(), Indication::code);
  static final FieldKind<SpecimenPurpose> PURPOSE =
      new CodeKind<>(SpecimenPurpose.values(), SpecimenPurpose::code);

  static final FieldKind<Map<InsertionStep, StepResult>> STEPS =
      new CodedMapKind<>(
          "step",
          InsertionStep.class,
          new CodeKind<>(InsertionStep.values(), InsertionStep::code),
          new CodeKind<>(StepResult.values(), StepResult::code));
  static final FieldKind<Map<CareItem, Boolean>> ITEMS =
      new CodedMapKind<>(
          "item", CareItem.class, new CodeKind<>(CareItem.values(), CareItem::code), BOOLEAN);

  private Kinds() {}
}
