package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The pages of the packaged service in a real browser. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class BrowserIT {
  @TempDir Path data;

  @Test
  void the_pages_hold_what_they_promise_in_a_browser() throws Exception {
    Browser.orSkip();
    Map<String, String> demo = Map.of("INDWELL_DATA_DIR", data.toString(), "INDWELL_DEMO", "true");
    try (RunningService service = RunningService.start(demo)) {
      Map<String, String> base = Map.of("INDWELL_BASE", "http://localhost:" + service.port());

      Browser.Ended looked = Browser.run("browser.test.mjs", base);

      assertThat(looked.exitCode()).as(looked.log()).isZero();
    }
  }
}
