package indwell.usecase.transaction;

import indwell.domain.refusal.Issue;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.OptionalInt;
import java.util.function.Consumer;

/** Collects what is wrong with the entries, so that all of it can be told at once. */
final class Problems {
  private final List<Issue> issues = new ArrayList<>();
  private OptionalInt status = OptionalInt.empty();

  /** Does it for each, and remembers the refusals. */
  <T> void each(Collection<T> all, Consumer<T> work) {
    for (T one : all) {
      try {
        work.accept(one);
      } catch (Refused refused) {
        issues.addAll(refused.issues());
        status = status.isPresent() ? status : OptionalInt.of(refused.status());
      }
    }
  }

  /** Ends the transaction if there were any; its status is that of the first. */
  void end() {
    if (status.isPresent()) {
      throw new Refused(status.getAsInt(), issues);
    }
  }
}
