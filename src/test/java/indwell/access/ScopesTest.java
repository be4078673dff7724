package indwell.access;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

@DisplayNameGeneration(ReplaceUnderscores.class)
class ScopesTest {
  record Row(String scopes, String type, String gives) {}

  @ParameterizedTest(name = "{0}")
  @MethodSource("rows")
  void scopes_give_what_their_row_says_and_nothing_else(Row row) {
    Scopes scopes = Scopes.of(row.scopes());

    String given =
        Arrays.stream(Permission.values())
            .filter(one -> scopes.give(row.type(), one))
            .map(one -> String.valueOf(one.letter()))
            .collect(Collectors.joining());

    assertThat(given).isEqualTo(row.gives());
  }

  static Stream<Row> rows() throws IOException {
    try (InputStream in = ScopesTest.class.getResourceAsStream("scopes.txt")) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8)
              .lines()
              .filter(line -> !line.startsWith("#"))
              .map(line -> line.split("\\|", -1))
              .map(cell -> new Row(cell[0].trim(), cell[1].trim(), cell[2].trim()))
              .toList()
              .stream();
    }
  }

  @Test
  void what_is_lacking_is_named_as_it_would_have_to_be_asked_for() {
    Caller caller =
        new Caller.Known(
            "https://issuer.example",
            "c",
            java.util.Optional.empty(),
            Scopes.of("user/Device.rd"),
            Set.of());

    assertThat(caller.decide(List.of(Need.of("Device", Permission.READ))))
        .isEqualTo(new Verdict.Allowed());
    assertThat(
            caller.decide(
                List.of(Need.of("Device", Permission.UPDATE, Permission.READ, Permission.CREATE))))
        .isEqualTo(new Verdict.Lacking("system/Device.cu", false, false));
  }

  @Test
  void a_role_does_as_well_as_a_scope_of_our_own() {
    Need writes = Need.of(OwnScope.SURVEILLANCE_WRITE);

    assertThat(writes.lacking(Scopes.NONE, Set.of(Role.PREVENTIONIST))).isEmpty();
    assertThat(writes.lacking(Scopes.of(OwnScope.SURVEILLANCE_WRITE.uri()), Set.of())).isEmpty();
    assertThat(writes.lacking(Scopes.of("system/*.cruds"), Set.of(Role.NURSE)))
        .contains("https://indwell.example/scope/surveillance.write");
  }

  @Test
  void nobody_may_do_what_needs_anything() {
    assertThat(Caller.NOBODY.decide(List.of())).isEqualTo(new Verdict.Allowed());
    assertThat(Caller.NOBODY.decide(List.of(Need.known())))
        .isEqualTo(new Verdict.Unknown(Doubt.NO_TOKEN));
  }
}
