package indwell.web.page;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.blackbox.Browser;
import java.util.Map;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Each page as a whole, at a fixed time, against the picture that was approved. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PagesPicturedIT {

  @Test
  void the_pages_look_as_they_were_approved() throws Exception {
    Browser.orSkip();
    try (PagesServer pages = new PagesServer()) {
      pages.loadDemo();

      Browser.Ended looked = Browser.run("pictures.test.mjs", Map.of("INDWELL_BASE", pages.base()));

      assertThat(looked.exitCode()).as(looked.log()).isZero();
    }
  }
}
