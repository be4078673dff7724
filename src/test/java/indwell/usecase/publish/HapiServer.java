package indwell.usecase.publish;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.rest.server.IResourceProvider;
import ca.uhn.fhir.rest.server.RestfulServer;
import ca.uhn.fhir.rest.server.provider.HashMapResourceProvider;
import indwell.usecase.ReadResources;
import java.util.ArrayList;
import java.util.List;
import org.eclipse.jetty.ee10.servlet.ServletContextHandler;
import org.eclipse.jetty.ee10.servlet.ServletHolder;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.hl7.fhir.instance.model.api.IBaseResource;

/** HAPI's plain server on Jetty, with its own store in memory: nothing of it was written here. */
final class HapiServer implements AutoCloseable {
  private final Server jetty = new Server();
  private final ServerConnector connector = new ServerConnector(jetty);

  HapiServer() throws Exception {
    FhirContext context = FhirContext.forR4Cached();
    List<IResourceProvider> providers = new ArrayList<>();
    for (String type : ReadResources.TYPES) {
      providers.add(provider(context, context.getResourceDefinition(type).getImplementingClass()));
    }
    RestfulServer fhir = new RestfulServer(context);
    fhir.setResourceProviders(providers);
    connector.setHost("127.0.0.1");
    jetty.addConnector(connector);
    ServletContextHandler handler = new ServletContextHandler();
    handler.addServlet(new ServletHolder(fhir), "/fhir/*");
    jetty.setHandler(handler);
    jetty.start();
  }

  private static <T extends IBaseResource> HashMapResourceProvider<T> provider(
      FhirContext context, Class<T> type) {
    return new HashMapResourceProvider<>(context, type);
  }

  String base() {
    return "http://127.0.0.1:" + connector.getLocalPort() + "/fhir";
  }

  @Override
  public void close() throws Exception {
    jetty.stop();
  }
}
