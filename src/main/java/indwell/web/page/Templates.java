package indwell.web.page;

import io.quarkus.qute.Engine;
import io.quarkus.qute.HtmlEscaper;
import io.quarkus.qute.ReflectionValueResolver;
import io.quarkus.qute.TemplateInstance;
import io.quarkus.qute.TemplateLocator.TemplateLocation;
import io.quarkus.qute.Variant;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;

/**
 * The templates below {@code templates/}. They escape every value, and one that names what is not
 * there fails. The build checks them against the types that they declare.
 */
public final class Templates {
  private static final String FOLDER = "/templates/";
  private static final String HTML = "text/html";

  private final Engine engine =
      Engine.builder()
          .addDefaults()
          .addValueResolver(new ReflectionValueResolver())
          .addResultMapper(new HtmlEscaper(List.of(HTML)))
          .addLocator(Templates::locate)
          .strictRendering(true)
          .build();

  /** The page that the template makes of a view. */
  public String render(String name, Frame frame, Object view) {
    TemplateInstance page = engine.getTemplate(name).instance();
    return page.data("frame", frame).data("view", view).render();
  }

  private static Optional<TemplateLocation> locate(String name) {
    String file = FOLDER + (name.endsWith(".html") ? name : name + ".html");
    return Templates.class.getResource(file) == null
        ? Optional.empty()
        : Optional.of(new Located(file));
  }

  private record Located(String file) implements TemplateLocation {
    @Override
    public Reader read() {
      InputStream in = Templates.class.getResourceAsStream(file);
      if (in == null) {
        throw new IllegalStateException("The program lacks its file " + file);
      }
      return new InputStreamReader(in, StandardCharsets.UTF_8);
    }

    @Override
    public Optional<Variant> getVariant() {
      return Optional.of(Variant.forContentType(HTML));
    }
  }
}
