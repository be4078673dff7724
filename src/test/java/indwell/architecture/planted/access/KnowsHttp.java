package indwell.architecture.planted.access;

import io.vertx.core.http.HttpServerRequest;

/** Breaks a rule on purpose: a decision that looks at a request. */
public final class KnowsHttp {
  private KnowsHttp() {}

  public static String path(HttpServerRequest request) {
    return request.path();
  }
}
