package indwell.web.access;

import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import indwell.access.Caller;
import indwell.access.Role;
import indwell.access.Scopes;
import indwell.web.page.LoggedInRecorder;
import indwell.web.page.PagesServer;
import io.vertx.ext.web.Router;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every route has an access rule, and the rules of pages are those of {@code docs/access.md}. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RoutesTest {
  private static final Pattern CODE = Pattern.compile("`([^`]+)`");
  private static final String STYLE = "/indwell.css";

  /** A row: how a page is asked for, and by whom. */
  record Row(String method, String address, Set<Role> roles) {}

  private static List<Row> table() throws Exception {
    List<Row> rows = new ArrayList<>();
    boolean pages = false;
    for (String line : Files.readAllLines(Path.of("docs/access.md"))) {
      pages = line.startsWith("## ") ? line.equals("## Pages") : pages;
      String[] cells = line.split(" \\| ", -1);
      if (pages && line.matches("\\| (GET|POST) .*")) {
        Set<Role> roles =
            Set.copyOf(codes(cells[2]).map(Role::of).flatMap(Optional::stream).toList());
        codes(cells[1])
            .forEach(address -> rows.add(new Row(cells[0].substring(2), address, roles)));
      }
    }
    return rows;
  }

  private static Stream<String> codes(String cell) {
    return CODE.matcher(cell).results().map(one -> one.group(1));
  }

  static Stream<Caller> callers() {
    return Stream.of(
        Caller.NOBODY,
        known(Set.of()),
        known(Set.of(Role.NURSE)),
        known(Set.of(Role.PREVENTIONIST)));
  }

  private static Caller known(Set<Role> roles) {
    return new Caller.Known(
        "https://issuer.example", "pages", Optional.of("staff-4711"), Scopes.NONE, roles);
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("callers")
  void a_page_is_for_the_roles_of_its_row(Caller caller) throws Exception {
    HttpClient browser = HttpClient.newHttpClient();
    try (PagesServer pages = new PagesServer(0, new LoggedInRecorder(), caller)) {
      assertThat(table().stream().map(Row::address).sorted())
          .containsExactlyElementsOf(
              pages.routes().stream().filter(one -> !one.equals(STYLE)).sorted().toList());
      for (Row row : table()) {
        URI address =
            URI.create(pages.base() + row.address().replace(":ward", "A").replace(":id", "x"));
        int status =
            browser
                .send(
                    HttpRequest.newBuilder(address)
                        .method(row.method(), BodyPublishers.noBody())
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .build(),
                    BodyHandlers.discarding())
                .statusCode();
        if (caller.equals(Caller.NOBODY)) {
          assertThat(status).as(row.address()).isEqualTo(401);
        } else if (((Caller.Known) caller).roles().stream().noneMatch(row.roles()::contains)) {
          assertThat(status).as(row.address()).isEqualTo(403);
        } else if (row.method().equals("GET")) {
          assertThat(status).as(row.address()).isIn(200, 404);
        } else {
          // The form is empty, which is found out only behind the rule.
          assertThat(status).as(row.address()).isIn(400, 403);
        }
      }
    }
  }

  /** A class that adds routes has to be looked at here: who decides about them, and by what. */
  @Test
  void nobody_else_adds_routes() {
    List<String> adding =
        new ClassFileImporter()
                .withImportOption(new ImportOption.DoNotIncludeTests())
                .importPackages("indwell")
                .stream()
                .filter(RoutesTest::takesRouter)
                .map(JavaClass::getSimpleName)
                .sorted()
                .toList();

    assertThat(adding)
        .containsExactly(
            // before the gate, and refuses only: CrossOriginTest
            "CrossOrigin",
            // by interaction: FhirAccessTest
            "EventRoutes",
            "FhirRoutes",
            // before all others: GateTest
            "Gate",
            // before the gate, and refuses only: StoppedServiceIT
            "GracefulStop",
            "InsertionPage",
            // open, and a way out: LoginTest
            "LoginPages",
            // for one scope: MetricsHttpTest
            "MetricsRoute",
            "PageStyle",
            "PatientPage",
            // all of it for one scope: PublishingHttpTest
            "PublishingRoutes",
            "ReportPage",
            // before all others, and answers nothing: TracesIT
            "RequestMarks",
            // open: GateTest
            "SmartConfiguration",
            // by method: GuardedIntakeTest in web.events
            "SurveillanceRoutes",
            // before all others, and sees them pass: AuditAccessTest
            "VisitBook",
            "WardPage");
  }

  private static boolean takesRouter(JavaClass one) {
    return one.getMethods().stream()
        .anyMatch(
            method ->
                method.getName().equals("register")
                    && method.getRawParameterTypes().stream()
                        .anyMatch(type -> type.isEquivalentTo(Router.class))
                    && method.getParameters().stream()
                        .anyMatch(
                            parameter ->
                                parameter.isAnnotatedWith(
                                    jakarta.enterprise.event.Observes.class)));
  }
}
