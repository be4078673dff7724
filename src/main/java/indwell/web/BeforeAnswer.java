package indwell.web;

import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionStage;

/** What has to be done before the first byte of an answer leaves. */
@FunctionalInterface
public interface BeforeAnswer {
  /** Nothing, for answers of which nobody is told. */
  BeforeAnswer NOTHING = CompletableFuture::completedStage;

  /**
   * Does it, without waiting; never fails.
   *
   * @return the answer that may leave then, which is another one where this may not
   */
  CompletionStage<HttpAnswer> leaving(HttpAnswer answer);
}
