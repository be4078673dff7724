package indwell.faults;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** Begins the processes that are there to end. */
final class Lives {
  private Lives() {}

  /**
   * Begins one: small, and quick to be there.
   *
   * @param victim has a {@code main}
   * @param options its arguments, each a name and a value
   */
  static Process begin(Class<?> victim, Map<String, String> options) throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx256m",
                "-XX:+UseSerialGC",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                victim.getName()));
    options.forEach((name, value) -> command.add(name + "=" + value));
    return new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
  }
}
