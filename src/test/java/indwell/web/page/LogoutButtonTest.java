package indwell.web.page;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.access.Caller;
import indwell.access.Role;
import indwell.access.Scopes;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Whoever is logged in can log out from every page; where nobody logs in nothing offers it. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class LogoutButtonTest {
  private static final String BUTTON = "header form[method=post][action=/logout] button";

  private static List<Element> buttons(PagesServer pages, String path) throws Exception {
    return Jsoup.connect(pages.base() + path).get().select(BUTTON);
  }

  @Test
  void who_is_logged_in_can_log_out() throws Exception {
    Caller person =
        new Caller.Known(
            "https://issuer.example",
            "pages",
            Optional.of("staff-4711"),
            Scopes.NONE,
            Set.of(Role.NURSE, Role.PREVENTIONIST));
    try (PagesServer pages = new PagesServer(0, new LoggedInRecorder(), person)) {
      for (String path : List.of("/", "/report")) {
        assertThat(buttons(pages, path)).as(path).hasSize(1);
      }
    }
  }

  @Test
  void where_nobody_logs_in_there_is_no_button() throws Exception {
    try (PagesServer pages = new PagesServer()) {
      assertThat(buttons(pages, "/")).isEmpty();
      assertThat(Jsoup.connect(pages.base() + "/").get().select("header nav a")).hasSize(2);
    }
  }
}
