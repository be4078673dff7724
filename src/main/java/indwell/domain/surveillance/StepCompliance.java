package indwell.domain.surveillance;

import indwell.domain.event.InsertionStep;
import indwell.domain.event.Placing;
import indwell.domain.event.StepResult;
import java.util.Collection;
import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;

/**
 * How the steps of insertions were charted. A step that nobody charted is neither done nor left
 * out, and one that did not apply is not asked for.
 *
 * <p>Rule STEP-1. Source: HICPAC 2009, recommendation II (from memory); the measure is own.
 *
 * @param insertions all of them, exchanges included
 * @param checked those with at least one step charted as done or not done
 * @param complete those of them without a step charted as not done
 * @param steps how each step was charted
 */
public record StepCompliance(
    int insertions, int checked, int complete, Map<InsertionStep, Counts> steps) {
  public StepCompliance {
    steps = Collections.unmodifiableMap(new EnumMap<>(steps));
  }

  /**
   * How one step was charted.
   *
   * @param notStated by nobody
   */
  public record Counts(int done, int notDone, int notApplicable, int notStated) {
    /** The insertions in which the step was charted as done or not done. */
    public int asked() {
      return done + notDone;
    }
  }

  /** The compliance over insertions and replacements. */
  public static StepCompliance of(Collection<Placing> insertions) {
    Map<InsertionStep, Counts> steps = new EnumMap<>(InsertionStep.class);
    for (InsertionStep step : InsertionStep.values()) {
      int done = count(insertions, step, StepResult.DONE);
      int notDone = count(insertions, step, StepResult.NOT_DONE);
      int notApplicable = count(insertions, step, StepResult.NOT_APPLICABLE);
      int rest = insertions.size() - done - notDone - notApplicable;
      steps.put(step, new Counts(done, notDone, notApplicable, rest));
    }
    int checked = (int) insertions.stream().filter(StepCompliance::isChecked).count();
    int complete =
        (int) insertions.stream().filter(one -> isChecked(one) && !isIncomplete(one)).count();
    return new StepCompliance(insertions.size(), checked, complete, steps);
  }

  private static int count(Collection<Placing> insertions, InsertionStep step, StepResult result) {
    return (int) insertions.stream().filter(one -> one.steps().get(step) == result).count();
  }

  private static boolean isChecked(Placing insertion) {
    return insertion.steps().containsValue(StepResult.DONE) || isIncomplete(insertion);
  }

  private static boolean isIncomplete(Placing insertion) {
    return insertion.steps().containsValue(StepResult.NOT_DONE);
  }
}
