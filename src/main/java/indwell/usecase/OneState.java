package indwell.usecase;

import indwell.port.ClinicalStore;
import indwell.port.ResourceText;
import indwell.port.Standing;
import java.time.Instant;
import java.util.function.Consumer;
import java.util.function.Function;

/**
 * One state of a store as a store of its own, so that what reads a store can read within a
 * transaction. It cannot be written.
 */
public final class OneState implements ClinicalStore {
  private final Reading state;

  public OneState(Reading state) {
    this.state = state;
  }

  @Override
  public <T> T write(Function<Writing, T> work) {
    throw new UnsupportedOperationException("This state is only read");
  }

  @Override
  public <T> T read(Function<Reading, T> work) {
    return work.apply(state);
  }

  @Override
  public Instant settle(Instant at) {
    throw new UnsupportedOperationException("This state is only read");
  }

  @Override
  public void standing(Standing question, Consumer<ResourceText> visit) {
    throw new UnsupportedOperationException("This state is asked for single resources");
  }

  @Override
  public boolean available() {
    return true;
  }

  @Override
  public void close() {}
}
