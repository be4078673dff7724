package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.rule.RuleSettings;
import io.smallrye.config.WithDefault;
import io.smallrye.config.WithParentName;
import java.lang.reflect.Method;
import java.lang.reflect.ParameterizedType;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * docs/configuration.md names every key, its environment variable and its default. The interface is
 * found by its name, for the page may be ahead of it; a service without it would be a failure.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ConfigurationPageTest {

  @Test
  void the_page_names_the_keys_of_the_code_and_no_other() throws Exception {
    List<String> onPage = new ArrayList<>();
    for (List<String> row : page()) {
      onPage.addAll(row.stream().filter(cell -> cell.startsWith("`indwell.")).limit(1).toList());
    }

    Optional<Class<?>> config = config();
    if (config.isPresent()) {
      assertThat(onPage)
          .containsExactlyInAnyOrderElementsOf(
              keys("indwell", config.get()).stream().map(key -> "`" + key + "`").toList());
    }
  }

  @Test
  void each_environment_variable_is_that_of_its_property() throws Exception {
    for (List<String> row : page()) {
      if (row.size() > 2 && row.get(0).matches("`[A-Z_]+`")) {
        String property = row.get(1).replace("`", "");
        assertThat(row.get(0).replace("`", ""))
            .isEqualTo(property.toUpperCase(Locale.ROOT).replaceAll("[^A-Z0-9]", "_"));
      }
    }
  }

  @Test
  void the_defaults_are_those_of_the_code() throws Exception {
    for (Method method : config().map(Class::getMethods).orElse(new Method[0])) {
      WithDefault value = method.getAnnotation(WithDefault.class);
      if (value != null) {
        assertThat(defaultOf("indwell." + kebab(method.getName()))).isEqualTo(value.value());
      }
    }
    RuleSettings rules = RuleSettings.DEFAULTS;
    assertThat(
            List.of(
                defaultOf("indwell.rules.review-due-by"),
                defaultOf("indwell.rules.securement-good-days"),
                defaultOf("indwell.rules.output-charting-within"),
                defaultOf("indwell.rules.care-check-within"),
                defaultOf("indwell.rules.postoperative-within"),
                defaultOf("indwell.rules.balloon-tolerance-ml"),
                defaultOf("indwell.rules.urine-reading")))
        .isEqualTo(
            List.of(
                rules.reviewDueBy().toString(),
                Integer.toString(rules.securementGoodDays()),
                rules.outputChartingWithin().toHours() + "h",
                rules.careCheckWithin().toHours() + "h",
                rules.postoperativeWithin().toHours() + "h",
                rules.balloonToleranceMl().toPlainString(),
                rules.urineReading().code()));
  }

  private static Optional<Class<?>> config() {
    try {
      return Optional.of(Class.forName("indwell.boot.IndwellConfig"));
    } catch (ClassNotFoundException none) {
      assertThat(Files.exists(Path.of("src/main/java/indwell/boot/IndwellMain.java"))).isFalse();
      return Optional.empty();
    }
  }

  private static List<List<String>> page() throws Exception {
    return Markdown.of("docs/configuration.md").rows();
  }

  private static String defaultOf(String property) throws Exception {
    return page().stream()
        .filter(row -> row.size() > 2 && row.get(1).equals("`" + property + "`"))
        .map(row -> row.get(2).replace("`", ""))
        .findFirst()
        .orElse("not on the page");
  }

  private static List<String> keys(String prefix, Class<?> group) {
    List<String> keys = new ArrayList<>();
    for (Method method : group.getMethods()) {
      boolean atParent = method.isAnnotationPresent(WithParentName.class);
      String key = atParent ? prefix : prefix + "." + kebab(method.getName());
      if (method.getReturnType() == Map.class) {
        ParameterizedType map = (ParameterizedType) method.getGenericReturnType();
        keys.addAll(keys(key + ".\"<ward>\"", (Class<?>) map.getActualTypeArguments()[1]));
      } else if (isGroup(method.getReturnType())) {
        keys.addAll(keys(key, method.getReturnType()));
      } else {
        keys.add(key);
      }
    }
    return keys;
  }

  private static boolean isGroup(Class<?> type) {
    Class<?> outer = type.getEnclosingClass();
    return outer != null && outer.getName().equals("indwell.boot.IndwellConfig");
  }

  private static String kebab(String name) {
    return name.replaceAll("([A-Z])", "-$1").toLowerCase(Locale.ROOT);
  }
}
