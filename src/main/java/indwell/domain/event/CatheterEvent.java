package indwell.domain.event;

import java.util.Map;
import java.util.Optional;

/** Something that happened to one named catheter. */
public sealed interface CatheterEvent extends BedsideEvent
    permits CatheterEvent.Insertion,
        CatheterEvent.Exchange,
        CatheterEvent.Removal,
        CatheterEvent.NeedReview,
        CatheterEvent.SecurementChange,
        CatheterEvent.CareCheck,
        CatheterEvent.SpecimenCollection {

  /** The catheter it happened to; of an exchange, the old one. */
  CatheterId catheter();

  /** A catheter is put in. */
  record Insertion(Envelope envelope, BusinessId encounter, Placing placing)
      implements CatheterEvent {
    @Override
    public Optional<BusinessId> encounterNamed() {
      return Optional.of(encounter);
    }

    @Override
    public CatheterId catheter() {
      return placing.catheter();
    }

    @Override
    public EventType type() {
      return EventType.CATHETER_INSERTED;
    }
  }

  /**
   * A catheter is taken out and another one put in.
   *
   * @param catheter the old one
   * @param replacement the new one; its id differs from the old one's
   */
  record Exchange(
      Envelope envelope,
      Optional<BusinessId> encounterNamed,
      CatheterId catheter,
      Placing replacement)
      implements CatheterEvent {
    @Override
    public EventType type() {
      return EventType.CATHETER_EXCHANGED;
    }
  }

  /**
   * A catheter is taken out.
   *
   * @param reason why, in the sender's words
   */
  record Removal(
      Envelope envelope,
      Optional<BusinessId> encounterNamed,
      CatheterId catheter,
      Optional<String> reason)
      implements CatheterEvent {
    @Override
    public EventType type() {
      return EventType.CATHETER_REMOVED;
    }
  }

  /**
   * Somebody asked whether the catheter is still needed.
   *
   * @param stillNeeded the answer
   * @param indication why; present whenever it is still needed
   */
  record NeedReview(
      Envelope envelope,
      Optional<BusinessId> encounterNamed,
      CatheterId catheter,
      boolean stillNeeded,
      Optional<StatedIndication> indication)
      implements CatheterEvent {
    @Override
    public EventType type() {
      return EventType.NEED_REVIEWED;
    }
  }

  /**
   * The securement was replaced.
   *
   * @param site where it sits, in the sender's words
   */
  record SecurementChange(
      Envelope envelope,
      Optional<BusinessId> encounterNamed,
      CatheterId catheter,
      Optional<String> site)
      implements CatheterEvent {
    @Override
    public EventType type() {
      return EventType.SECUREMENT_CHANGED;
    }
  }

  /**
   * The catheter, its tubing and its bag were checked.
   *
   * @param items what was looked at and whether it was in order
   */
  record CareCheck(
      Envelope envelope,
      Optional<BusinessId> encounterNamed,
      CatheterId catheter,
      Map<CareItem, Boolean> items)
      implements CatheterEvent {
    public CareCheck {
      items = Map.copyOf(items);
    }

    @Override
    public EventType type() {
      return EventType.CARE_CHECKED;
    }
  }

  /** A urine specimen was taken through the catheter. */
  record SpecimenCollection(
      Envelope envelope,
      Optional<BusinessId> encounterNamed,
      CatheterId catheter,
      Optional<SpecimenPurpose> purpose)
      implements CatheterEvent {
    @Override
    public EventType type() {
      return EventType.SPECIMEN_COLLECTED;
    }
  }
}
