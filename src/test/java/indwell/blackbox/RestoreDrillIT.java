package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The drill of docs/operations.md: what was acknowledged before a backup is in it. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RestoreDrillIT {
  @TempDir Path folder;

  @Test
  void a_service_lives_on_from_a_backup_made_while_it_was_written_to() throws Exception {
    Path output = folder.resolve("output");
    ProcessBuilder drill =
        new ProcessBuilder("src/main/scripts/restore-drill.sh", RunningService.JAR.toString())
            .redirectErrorStream(true)
            .redirectOutput(output.toFile());
    drill.environment().put("DRILL_PORT", Integer.toString(freePort()));

    Process process = drill.start();

    assertThat(process.waitFor(5, TimeUnit.MINUTES)).isTrue();
    assertThat(process.exitValue()).as(Files.readString(output)).isZero();
    assertThat(Files.readString(output)).endsWith("; lost: 0\n");
  }

  private static int freePort() throws IOException {
    try (ServerSocket socket = new ServerSocket(0)) {
      return socket.getLocalPort();
    }
  }
}
