package indwell.usecase;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import java.util.function.Function;

/**
 * What came of a question: its answer, or why it could not be answered.
 *
 * @param <T> the answer
 */
public sealed interface Asked<T> permits Asked.Answered, Asked.Refused {

  /** The answer. */
  record Answered<T>(T value) implements Asked<T> {}

  /** No answer; the issue says why, {@link IssueCode#NOT_FOUND} for what is not known. */
  record Refused<T>(Issue issue) implements Asked<T> {}

  /** The question is answered. */
  static <T> Asked<T> answer(T value) {
    return new Answered<>(value);
  }

  /**
   * The question cannot be answered.
   *
   * @param parameter the one at fault, as the caller named it
   * @param diagnostics a sentence with the value and what was expected
   */
  static <T> Asked<T> refuse(IssueCode code, String parameter, String diagnostics) {
    return new Refused<>(Issue.error(code, parameter, diagnostics));
  }

  /** Makes one value of both cases. */
  default <R> R fold(Function<T, R> answered, Function<Issue, R> refused) {
    return this instanceof Answered<T> one
        ? answered.apply(one.value())
        : refused.apply(((Refused<T>) this).issue());
  }
}
