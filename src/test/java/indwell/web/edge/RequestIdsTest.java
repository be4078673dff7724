package indwell.web.edge;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Ids of requests. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RequestIdsTest {
  private final RequestIds ids = new RequestIds(1);

  @Test
  void no_two_requests_have_one_id() {
    assertThat(Stream.generate(ids::next).limit(10_000))
        .doesNotHaveDuplicates()
        .allMatch(id -> id.matches("[0-9a-f]{16}"));
  }
}
