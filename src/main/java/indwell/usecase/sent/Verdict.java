package indwell.usecase.sent;

import indwell.domain.refusal.Issue;
import java.util.List;
import java.util.Optional;

/** What a resource that was sent is to the count. */
sealed interface Verdict {
  /** It is needed and can be read as far as is known. */
  record Needed() implements Verdict {}

  /**
   * Others refer to it, and by itself it says nothing that is counted.
   *
   * @param why as for {@link SaysNothing}; empty where that is as it should be
   */
  record ReferredTo(Optional<String> why) implements Verdict {}

  /** It was taken back. */
  record TakenBack() implements Verdict {}

  /** It follows from others, and says nothing that they do not say. */
  record Follows() implements Verdict {}

  /**
   * It says nothing that is counted.
   *
   * @param why ends a sentence that begins with "3 resources of type Procedure were passed over:"
   */
  record SaysNothing(String why) implements Verdict {}

  /**
   * It is about what is counted and cannot be read.
   *
   * @param issues with expressions that begin with the type of the resource
   */
  record Unreadable(List<Issue> issues) implements Verdict {
    public Unreadable {
      issues = List.copyOf(issues);
    }
  }
}
