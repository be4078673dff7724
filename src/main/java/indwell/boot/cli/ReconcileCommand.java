package indwell.boot.cli;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.upstream.HapiUpstream;
import indwell.boot.IndwellConfig;
import indwell.boot.PublishSettings;
import indwell.boot.Stores;
import indwell.port.StoreUnavailable;
import indwell.usecase.publish.Reconcile;
import indwell.usecase.publish.Reconcile.Difference;
import indwell.usecase.publish.Reconcile.Finding;
import indwell.usecase.publish.Reconcile.Unanswered;
import io.smallrye.config.SmallRyeConfig;
import io.smallrye.config.SmallRyeConfigBuilder;
import java.io.PrintWriter;
import java.time.Clock;
import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/**
 * Compares the record with the server that it is published to, by the configuration of the service.
 */
@Command(
    name = "reconcile",
    description =
        "Compares every stored resource with the server that INDWELL_PUBLISH_URL names: what is"
            + " missing there, what differs, what is too much. Changes nothing on either side.",
    mixinStandardHelpOptions = true)
final class ReconcileCommand implements Callable<Integer> {
  @CommandLine.Option(
      names = "--format",
      paramLabel = "FORMAT",
      defaultValue = "text",
      description =
          "text: one line a difference; json: one object a line (default: ${DEFAULT-VALUE}).")
  private Format format;

  @CommandLine.Spec private CommandLine.Model.CommandSpec spec;

  private final Map<Difference, Long> counts = new EnumMap<>(Difference.class);

  /** How a difference is told. */
  enum Format {
    TEXT {
      @Override
      String line(Finding finding) {
        return word(finding) + " " + finding.reference() + (finding.waiting() ? " (waiting)" : "");
      }
    },
    JSON {
      @Override
      String line(Finding finding) {
        return "{\"difference\":\""
            + word(finding)
            + "\",\"reference\":\""
            + finding.reference()
            + "\",\"waiting\":"
            + finding.waiting()
            + "}";
      }
    };

    abstract String line(Finding finding);

    private static String word(Finding finding) {
      return finding.difference().name().toLowerCase(Locale.ROOT);
    }
  }

  @Override
  public Integer call() {
    PrintWriter err = spec.commandLine().getErr();
    try {
      IndwellConfig config = config();
      if (config.publish().url().isEmpty()) {
        err.println("INDWELL_PUBLISH_URL is not set; expected the address to compare with.");
        return IndwellCommand.UNUSABLE;
      }
      return compare(config, err);
    } catch (Unanswered | IllegalArgumentException | StoreUnavailable unusable) {
      err.println(unusable.getMessage());
      return IndwellCommand.UNUSABLE;
    } catch (IllegalStateException refused) {
      // The store says why it does not open: in use by the service, above all.
      err.println(refused.getMessage());
      return IndwellCommand.UNUSABLE;
    }
  }

  private int compare(IndwellConfig config, PrintWriter err) {
    PublishSettings settings = new PublishSettings(config.publish(), Clock.systemUTC());
    try (JdbcStore store = Stores.open(config);
        HapiUpstream upstream = settings.upstream().orElseThrow()) {
      Reconcile reconcile = new Reconcile(store, store.outbox(), upstream, config.publish().ids());
      long compared = reconcile.compare(this::tell);
      err.println(
          compared
              + " resources compared: "
              + java.util.Arrays.stream(Difference.values())
                  .map(
                      one ->
                          counts.getOrDefault(one, 0L) + " " + one.name().toLowerCase(Locale.ROOT))
                  .collect(Collectors.joining(", "))
              + ".");
    }
    return counts.isEmpty() ? IndwellCommand.FINE : IndwellCommand.FINDINGS;
  }

  private void tell(Finding finding) {
    counts.merge(finding.difference(), 1L, Long::sum);
    spec.commandLine().getOut().println(format.line(finding));
  }

  private static IndwellConfig config() {
    SmallRyeConfig config =
        new SmallRyeConfigBuilder()
            .addDefaultInterceptors()
            .addDefaultSources()
            .addDiscoveredConverters()
            .withMapping(IndwellConfig.class)
            .build();
    return config.getConfigMapping(IndwellConfig.class);
  }
}
