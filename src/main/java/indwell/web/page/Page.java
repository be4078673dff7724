package indwell.web.page;

import indwell.web.HttpAnswer;

/** Answers one kind of request with a page; may wait for the store. */
@FunctionalInterface
public interface Page {
  /**
   * The answer.
   *
   * @throws PageRefusal for what cannot be answered; it becomes a page of its own
   */
  HttpAnswer answer(PageRequest request);
}
