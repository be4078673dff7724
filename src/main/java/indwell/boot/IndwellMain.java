package indwell.boot;

import indwell.boot.cli.IndwellCommand;
import indwell.web.edge.EdgeExtension;
import io.quarkus.runtime.Quarkus;
import io.quarkus.runtime.annotations.QuarkusMain;

/** Serves when no command is given; otherwise runs the command and exits. */
@QuarkusMain
public final class IndwellMain {
  private IndwellMain() {}

  /** The way in. */
  public static void main(String... args) {
    if (args.length == 0) {
      // It needs nothing of the rest of the start, and the rest nothing of it.
      WarmingValidator.ofThisProcess();
      // Before Netty is there, which reads it once.
      System.setProperty(EdgeExtension.SWITCH, "serviceload");
      Quarkus.run(args);
    } else {
      System.exit(IndwellCommand.run(args));
    }
  }
}
