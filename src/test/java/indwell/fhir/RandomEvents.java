package indwell.fhir;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.CatheterEvent.Removal;
import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Drainage;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventType;
import indwell.domain.event.Indication;
import indwell.domain.event.InsertionFindings;
import indwell.domain.event.InsertionStep;
import indwell.domain.event.Movement.Admission;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Movement.Transfer;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.domain.event.Route;
import indwell.domain.event.SpecimenPurpose;
import indwell.domain.event.StatedIndication;
import indwell.domain.event.StepResult;
import indwell.domain.event.Ward;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import java.util.function.Supplier;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;

/**
 * Valid events of one patient, made at random of few wards, stays, catheters and times, so that
 * they meet and contradict each other often.
 */
public final class RandomEvents {
  /** The patient of all of them. */
  public static final BusinessId PATIENT = new BusinessId("urn:test:patient", "P 71|ü");

  private static final Instant START = Instant.parse("2026-03-27T22:00:00Z");
  private static final List<String> TEXTS =
      List.of("left thigh", "Grund: \"Wunsch\" <&>", "尿道カテーテル 🩺", "a");

  private final Random random;
  private final EventKey key;

  private RandomEvents(Random random, EventKey key) {
    this.random = random;
    this.key = key;
  }

  /** Histories of up to 25 events; they shrink by leaving events out. */
  public static Arbitrary<List<BedsideEvent>> histories() {
    return Arbitraries.longs().list().ofMaxSize(25).map(RandomEvents::history);
  }

  private static List<BedsideEvent> history(List<Long> seeds) {
    List<BedsideEvent> events = new ArrayList<>();
    for (int index = 0; index < seeds.size(); index++) {
      EventKey key = new EventKey(index % 2 == 0 ? "his" : "bed.side-1", "e:" + index + "/x");
      events.add(event(seeds.get(index), key));
    }
    return events;
  }

  /** The event of that key that the seed stands for. */
  public static BedsideEvent event(long seed, EventKey key) {
    return new RandomEvents(new Random(seed), key).event();
  }

  private BedsideEvent event() {
    Envelope envelope = envelope();
    return switch (one(EventType.values())) {
      case PATIENT_ADMITTED -> new Admission(envelope, stay(), ward(), random.nextInt(4) > 0);
      case PATIENT_TRANSFERRED -> new Transfer(envelope, stay(), ward(), random.nextInt(4) > 0);
      case PATIENT_DISCHARGED -> new Discharge(envelope, stay(), maybe(random::nextBoolean));
      case CATHETER_INSERTED -> new Insertion(envelope, stay(), placing(catheter()));
      case CATHETER_EXCHANGED -> exchange(envelope);
      case CATHETER_REMOVED -> new Removal(envelope, maybe(this::stay), catheter(), text());
      case NEED_REVIEWED -> review(envelope);
      case SECUREMENT_CHANGED ->
          new SecurementChange(envelope, maybe(this::stay), catheter(), text());
      case CARE_CHECKED -> new CareCheck(envelope, maybe(this::stay), catheter(), items());
      case URINE_MEASURED -> urine(envelope);
      case SPECIMEN_COLLECTED ->
          new SpecimenCollection(
              envelope, maybe(this::stay), catheter(), maybe(() -> one(SpecimenPurpose.values())));
      case WEIGHT_MEASURED -> new BodyWeight(envelope, maybe(this::stay), decimal(2, 7000));
    };
  }

  private Envelope envelope() {
    Optional<BusinessId> recorder = maybe(() -> new BusinessId("urn:test:staff", "N-17"));
    return new Envelope(key, 1 + random.nextInt(3), time(), PATIENT, recorder);
  }

  /** On the hour as a rule, over the change to summer time in Europe. */
  private Instant time() {
    Instant hour = START.plus(Duration.ofHours(random.nextInt(72)));
    return random.nextInt(5) == 0 ? hour.plusMillis(random.nextInt(3_600_000)) : hour;
  }

  private Exchange exchange(Envelope envelope) {
    CatheterId old = catheter();
    CatheterId replacement = catheter();
    while (replacement.equals(old)) {
      replacement = catheter();
    }
    return new Exchange(envelope, maybe(this::stay), old, placing(replacement));
  }

  private NeedReview review(Envelope envelope) {
    boolean needed = random.nextBoolean();
    Optional<StatedIndication> why = needed ? Optional.of(indication()) : maybe(this::indication);
    return new NeedReview(envelope, maybe(this::stay), catheter(), needed, why);
  }

  private UrineOutput urine(Envelope envelope) {
    Instant from = envelope.occurredAt().minus(Duration.ofMinutes(1 + random.nextInt(1440)));
    return new UrineOutput(
        envelope, maybe(this::stay), from, decimal(0, 200_000), maybe(this::catheter));
  }

  private Placing placing(CatheterId catheter) {
    Product product =
        new Product(
            6 + random.nextInt(25),
            maybe(() -> decimal(0, 1000)),
            text(),
            number(4),
            text(),
            text(),
            number(365));
    InsertionFindings findings =
        new InsertionFindings(
            maybe(() -> decimal(0, 1000)),
            maybe(() -> decimal(0, 200_000)),
            maybe(random::nextBoolean),
            number(20),
            maybe(random::nextBoolean));
    return new Placing(
        catheter,
        random.nextInt(4) > 0 ? Route.URETHRAL : Route.SUPRAPUBIC,
        random.nextInt(4) > 0 ? Drainage.BAG : Drainage.NONE,
        product,
        indication(),
        maybe(this::time),
        findings,
        steps());
  }

  private StatedIndication indication() {
    Indication code = one(Indication.values());
    return new StatedIndication(code, code == Indication.OTHER ? Optional.of("why") : text());
  }

  private Map<InsertionStep, StepResult> steps() {
    Map<InsertionStep, StepResult> steps = new EnumMap<>(InsertionStep.class);
    for (InsertionStep step : InsertionStep.values()) {
      maybe(() -> one(StepResult.values())).ifPresent(result -> steps.put(step, result));
    }
    return steps;
  }

  private Map<CareItem, Boolean> items() {
    Map<CareItem, Boolean> items = new EnumMap<>(CareItem.class);
    for (CareItem item : CareItem.values()) {
      maybe(random::nextBoolean).ifPresent(inOrder -> items.put(item, inOrder));
    }
    return items;
  }

  private BusinessId stay() {
    return new BusinessId("urn:test:stay", "S-" + random.nextInt(2));
  }

  private Ward ward() {
    return new Ward("W" + random.nextInt(3) + ".a");
  }

  private CatheterId catheter() {
    return new CatheterId("cath " + random.nextInt(3));
  }

  private Optional<String> text() {
    return maybe(() -> TEXTS.get(random.nextInt(TEXTS.size())));
  }

  /** Tenths, whole numbers among them, as senders write them: 10 and 10.0. */
  private BigDecimal decimal(int minTenths, int maxTenths) {
    int tenths = minTenths + random.nextInt(maxTenths - minTenths + 1);
    BigDecimal value = BigDecimal.valueOf(tenths, 1);
    return random.nextBoolean() ? value : new BigDecimal(value.toPlainString() + "0");
  }

  private OptionalInt number(int max) {
    return random.nextBoolean() ? OptionalInt.of(1 + random.nextInt(max)) : OptionalInt.empty();
  }

  private <T> Optional<T> maybe(Supplier<T> value) {
    return random.nextBoolean() ? Optional.of(value.get()) : Optional.empty();
  }

  private <T> T one(T[] all) {
    return all[random.nextInt(all.length)];
  }
}
