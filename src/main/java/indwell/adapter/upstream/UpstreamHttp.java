package indwell.adapter.upstream;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Duration;
import org.apache.http.client.config.RequestConfig;
import org.apache.http.impl.client.CloseableHttpClient;
import org.apache.http.impl.client.HttpClients;

/**
 * Connections to the other server: no redirect is followed, no cookie is kept, no request is sent
 * again behind our back, and no proxy or password of the machine is used.
 */
final class UpstreamHttp implements AutoCloseable {
  private final CloseableHttpClient client;

  UpstreamHttp(Duration patience, int connections) {
    int millis = Math.toIntExact(patience.toMillis());
    this.client =
        HttpClients.custom()
            .disableRedirectHandling()
            .disableCookieManagement()
            .disableAutomaticRetries()
            .disableAuthCaching()
            .setMaxConnPerRoute(connections)
            .setMaxConnTotal(connections)
            .setDefaultRequestConfig(
                RequestConfig.custom()
                    .setConnectTimeout(millis)
                    .setSocketTimeout(millis)
                    .setConnectionRequestTimeout(millis)
                    .setRedirectsEnabled(false)
                    .build())
            .setUserAgent("Indwell")
            .build();
  }

  CloseableHttpClient client() {
    return client;
  }

  @Override
  public void close() {
    try {
      client.close();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
