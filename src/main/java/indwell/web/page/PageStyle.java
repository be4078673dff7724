package indwell.web.page;

import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import io.vertx.ext.web.Router;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;

/** The one style sheet of all pages, at {@code /indwell.css}. */
@ApplicationScoped
public class PageStyle {
  private static final String FILE = "/indwell/web/page/indwell.css";

  private final PageServer server;
  private final HttpAnswer style;

  /** Serves it by that server. */
  @Inject
  public PageStyle(PageServer server) {
    this.server = server;
    this.style = PageAnswers.of(200, "text/css; charset=utf-8", Buffer.buffer(read()));
  }

  private static byte[] read() {
    try (InputStream in = PageStyle.class.getResourceAsStream(FILE)) {
      if (in == null) {
        throw new IllegalStateException("The program lacks its file " + FILE);
      }
      return in.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Puts it on its path. */
  public void register(@Observes Router router) {
    router.route("/indwell.css").handler(server.open(request -> style));
  }
}
