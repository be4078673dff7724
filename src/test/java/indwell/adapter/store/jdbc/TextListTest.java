package indwell.adapter.store.jdbc;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;

/** Lists of texts in one column. */
class TextListTest {
  @Property(tries = 500, seed = "20261125")
  void every_list_comes_back(@ForAll List<String> texts) {
    assertThat(TextList.split(TextList.join(texts))).isEqualTo(texts);
  }

  @Property(tries = 500, seed = "20261125")
  void lists_of_breaks_and_escapes_come_back(
      @ForAll List<@net.jqwik.api.constraints.Chars({'\\', 'n', '\n', '|'}) String> texts) {
    assertThat(TextList.split(TextList.join(texts))).isEqualTo(texts);
  }
}
