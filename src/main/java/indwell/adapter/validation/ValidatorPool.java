package indwell.adapter.validation;

import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.function.Supplier;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.hl7.fhir.utilities.validation.ValidationMessage;

/** A fixed number of validators; who finds none free waits. */
final class ValidatorPool {
  private final BlockingQueue<ValidatorSlot> free;
  private final Supplier<ValidatorSlot> maker;
  private final int size;

  ValidatorPool(int size, Supplier<ValidatorSlot> maker) {
    this.size = size;
    this.maker = maker;
    this.free = new ArrayBlockingQueue<>(size);
    for (int i = 0; i < size; i++) {
      free.add(maker.get());
    }
  }

  int size() {
    return size;
  }

  /**
   * The messages of the library.
   *
   * @throws NotFinished if the library fails
   */
  List<ValidationMessage> validate(byte[] json, List<StructureDefinition> profiles) {
    ValidatorSlot slot = take();
    boolean sound = false;
    try {
      List<ValidationMessage> messages = slot.validate(json, profiles);
      sound = true;
      return messages;
    } catch (RuntimeException | StackOverflowError failed) {
      // The library reads narratives and long identifiers by recursion.
      throw new NotFinished(failed);
    } finally {
      // A validator that threw may be left half way through a resource; it is not used again.
      free.add(sound ? slot : maker.get());
    }
  }

  private ValidatorSlot take() {
    try {
      return free.take();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("Interrupted while waiting for a validator.", e);
    }
  }
}
