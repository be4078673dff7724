package indwell.boot;

import indwell.boot.demo.DemoWard;
import indwell.boot.traces.Traces;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.usecase.Facility;
import indwell.usecase.RecordEvents;
import indwell.usecase.SearchIndex;
import indwell.usecase.WhereaboutsIndex;
import indwell.usecase.audit.KeepAudit;
import indwell.usecase.export.Exports;
import indwell.usecase.publish.Publishing;
import indwell.web.access.AccessMode;
import io.quarkus.runtime.ShutdownEvent;
import io.quarkus.runtime.StartupEvent;
import jakarta.annotation.Priority;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import org.eclipse.microprofile.config.inject.ConfigProperty;

/** What happens before the first request: checks that refuse to start, and the demo ward. */
@ApplicationScoped
public class Startup {
  private static final Logger LOG = System.getLogger(Startup.class.getName());

  /** Observers without a priority have 2500. */
  private static final int LAST = 5_000;

  private final IndwellConfig config;
  private final ClinicalStore store;
  private final RecordEvents recordEvents;
  private final Facility facility;
  private final Clock clock;
  private final Exports exports;
  private final AccessMode mode;
  private final Publishing publishing;
  private final KeepAudit audit;
  private final Traces traces;

  Startup(
      IndwellConfig config,
      ClinicalStore store,
      RecordEvents recordEvents,
      Facility facility,
      Clock clock,
      Exports exports,
      AccessMode mode,
      Publishing publishing,
      KeepAudit audit,
      Traces traces) {
    this.config = config;
    this.store = store;
    this.recordEvents = recordEvents;
    this.facility = facility;
    this.clock = clock;
    this.exports = exports;
    this.mode = mode;
    this.publishing = publishing;
    this.audit = audit;
    this.traces = traces;
  }

  void onStart(
      @Observes StartupEvent event, @ConfigProperty(name = "quarkus.http.host") String host) {
    if (mode instanceof AccessMode.Development) {
      refuseOtherThanLoopback(host);
      LOG.log(
          Level.WARNING,
          "DEVELOPMENT MODE: no issuer is configured, so nobody is asked who they are. Only this"
              + " machine is served; no data of real patients may be in here.");
    }
    new SearchIndex(store).bringUpToDate();
    new WhereaboutsIndex(store).bringUpToDate();
    if (config.demo()) {
      loadDemo();
    }
    exports.start();
    publishing.start();
  }

  /** Before the store is closed. */
  void onStop(@Observes ShutdownEvent event) {
    publishing.close();
    exports.close();
  }

  /** After everybody else has stopped, whose last rows are written then. */
  void afterStop(@Observes @Priority(LAST) ShutdownEvent event) {
    audit.close();
    traces.close();
  }

  /**
   * Nobody is asked who they are, so nobody from outside may ask.
   *
   * @throws IllegalStateException for an address other than loopback
   */
  static void refuseOtherThanLoopback(String host) {
    try {
      for (InetAddress address : InetAddress.getAllByName(host)) {
        if (!address.isLoopbackAddress()) {
          throw new IllegalStateException(
              "Address "
                  + host
                  + " is not a loopback address; expected localhost, 127.0.0.1 or ::1, because"
                  + " without an issuer Indwell serves this machine only.");
        }
      }
    } catch (UnknownHostException unknown) {
      throw new IllegalStateException(
          "Address " + host + " is not known; expected localhost, 127.0.0.1 or ::1.", unknown);
    }
  }

  private void loadDemo() {
    Instant now = clock.instant();
    List<String> bodies = DemoWard.events(now, facility.calendar().zone());
    if (store.read(state -> !state.inpatientWards().isEmpty())) {
      LOG.log(Level.INFO, "The store holds events already; the demo ward is not loaded again.");
      return;
    }
    for (String body : bodies) {
      EventResult result =
          recordEvents.record(EventBodies.line(body.getBytes(StandardCharsets.UTF_8), now), now);
      if (result.outcome() != Outcome.RECORDED && result.outcome() != Outcome.SUPERSEDED) {
        throw new IllegalStateException("The demo ward does not load: " + result.outcome());
      }
    }
    LOG.log(Level.INFO, "The demo ward is loaded: {0} events.", bodies.size());
  }
}
