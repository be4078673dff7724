package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.usecase.ReadResources;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The table of {@code docs/access.md}, walked over every interaction that there is. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FhirAccessTest {
  private static final Pattern ROW =
      Pattern.compile(
          "\\| (GET|POST|PUT|DELETE) \\| (`[^`]+`|\\(the address[^|]*\\)) \\| (.*) \\|");
  private static final Pattern NEED = Pattern.compile("`(\\{type}|[A-Z]\\w+)\\.([cruds]+)`");
  private static final String STORED = "`.s` of every stored type";

  private static GuardedFhir guarded;
  private static FhirServer server;

  @BeforeAll
  static void start() throws Exception {
    guarded = new GuardedFhir();
    server = guarded.server();
  }

  @AfterAll
  static void stop() throws Exception {
    guarded.close();
  }

  /** A row: how it is asked for, and what that needs. */
  record Row(String method, String address, String needs) {
    String path() {
      int mark = address.indexOf('?');
      return mark < 0 ? address : address.substring(0, mark);
    }

    /** The scopes that it needs of a type, each with one letter. */
    List<String> scopes(String type) {
      if (needs.equals(STORED)) {
        return ReadResources.TYPES.stream().map(one -> "system/" + one + ".s").sorted().toList();
      }
      List<String> scopes = new ArrayList<>();
      Matcher need = NEED.matcher(needs);
      while (need.find()) {
        String of = need.group(1).equals("{type}") ? type : need.group(1);
        need.group(2).chars().forEach(letter -> scopes.add("system/" + of + "." + (char) letter));
      }
      return scopes;
    }

    boolean open() {
      return needs.equals("nothing");
    }
  }

  static List<Row> table() throws Exception {
    List<Row> rows = new ArrayList<>();
    boolean below = false;
    for (String line : Files.readAllLines(Path.of("docs/access.md"))) {
      below = line.startsWith("## ") ? line.contains("Under `/fhir`") : below;
      Matcher row = ROW.matcher(line);
      if (below && row.matches()) {
        String address = row.group(2);
        rows.add(
            new Row(
                row.group(1),
                address.startsWith("(") ? "" : address.replace("`", ""),
                row.group(3)));
      }
    }
    return rows;
  }

  private static String address(Interaction interaction) {
    return String.join("/", interaction.route().segments());
  }

  /** Every address of a row: one for each type that an interaction there has. */
  record Asked(Row row, String type) {
    String address() {
      String filled =
          row.address().replace("{type}", type).replace("{id}", "x").replace("{vid}", "1");
      return filled.isEmpty() ? "" : "/" + filled;
    }

    @Override
    public String toString() {
      return row.method() + " " + address();
    }
  }

  static Stream<Asked> asked() throws Exception {
    List<Asked> asked = new ArrayList<>();
    for (Row row : table()) {
      server.interactions.stream()
          .filter(one -> address(one).equals(row.path()))
          .filter(one -> one.route().methods().contains(row.method()))
          .flatMap(
              one ->
                  one.route().types().isEmpty()
                      ? Stream.of("")
                      : one.route().types().stream().sorted())
          .forEach(type -> asked.add(new Asked(row, type)));
    }
    return asked.stream();
  }

  @Test
  void every_interaction_stands_in_the_table_once_and_nothing_else_does() throws Exception {
    List<String> there =
        server.interactions.stream()
            .flatMap(one -> one.route().methods().stream().map(m -> m + " " + address(one)))
            .distinct()
            .sorted()
            .toList();

    assertThat(table().stream().map(row -> row.method() + " " + row.path()).sorted())
        .containsExactlyElementsOf(there);
  }

  private static HttpResponse<String> ask(Asked asked, String scopes) throws Exception {
    return server.ask(
        asked.row().method(),
        asked.address(),
        "",
        "Authorization",
        guarded.bearer("client-7", scopes));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("asked")
  void without_a_token_nothing_is_done_but_what_is_open(Asked asked) throws Exception {
    HttpResponse<String> answer = server.ask(asked.row().method(), asked.address(), "");

    if (asked.row().open()) {
      assertThat(answer.statusCode()).isEqualTo(200);
    } else {
      assertThat(answer.statusCode()).isEqualTo(401);
      assertThat(answer.headers().firstValue("WWW-Authenticate"))
          .contains("Bearer realm=\"indwell\"");
      assertThat(answer.body()).contains("OperationOutcome", "IND-0401");
    }
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("asked")
  void with_the_scopes_of_the_table_it_may_go_on(Asked asked) throws Exception {
    String scopes =
        asked.row().needs().startsWith("any letter")
            ? "system/" + asked.type() + ".d"
            : String.join(" ", asked.row().scopes(asked.type()));

    assertThat(ask(asked, scopes.isEmpty() ? "system/Patient.rs" : scopes).statusCode())
        .isNotIn(401, 403, 500);
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("asked")
  void with_any_of_them_left_out_it_may_not_and_is_told_which(Asked asked) throws Exception {
    List<String> scopes = asked.row().scopes(asked.type());
    for (String left : scopes.size() > 5 ? scopes.subList(0, 5) : scopes) {
      String others =
          scopes.stream().filter(one -> !one.equals(left)).collect(Collectors.joining(" "));
      HttpResponse<String> answer = ask(asked, others + " openid patient/*.cruds");

      assertThat(answer.statusCode()).as(others).isEqualTo(403);
      assertThat(answer.body()).contains("OperationOutcome", "IND-0403", left);
      assertThat(answer.headers().firstValue("WWW-Authenticate").orElse(""))
          .contains("error=\"insufficient_scope\"", "scope=\"" + left + "\"");
    }
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("asked")
  void scopes_of_every_other_type_do_not_help(Asked asked) throws Exception {
    boolean any = asked.row().needs().startsWith("any letter");
    List<String> types =
        any
            ? List.of(asked.type())
            : asked.row().scopes(asked.type()).stream()
                .map(FhirAccessTest::type)
                .distinct()
                .toList();
    String others =
        server.interactions.stream()
            .flatMap(one -> one.route().types().stream())
            .filter(one -> !types.contains(one))
            .distinct()
            .map(one -> "system/" + one + ".cruds")
            .collect(Collectors.joining(" "));

    if (!types.isEmpty()) {
      assertThat(ask(asked, others).statusCode()).isEqualTo(403);
    }
  }

  private static String type(String scope) {
    return scope.substring("system/".length(), scope.indexOf('.'));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("asked")
  void scopes_for_all_types_and_those_of_version_1_are_enough(Asked asked) throws Exception {
    if (asked.type().equals("AuditEvent")) {
      // Whoever reads everything of patients does not read who else did.
      assertThat(ask(asked, "system/*.cruds").statusCode()).isEqualTo(403);
      assertThat(ask(asked, "user/AuditEvent.read").statusCode()).isNotIn(401, 403, 500);
      return;
    }
    assertThat(ask(asked, "system/*.cruds").statusCode()).isNotIn(401, 403, 500);
    assertThat(ask(asked, "user/*.read user/*.write").statusCode()).isNotIn(401, 403, 500);
  }
}
