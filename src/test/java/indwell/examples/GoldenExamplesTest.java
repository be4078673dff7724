package indwell.examples;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.intake.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The stories of examples/ end as their golden files say. {@code -Dindwell.golden.write=true}
 * writes the files anew instead of comparing.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class GoldenExamplesTest {
  private static final boolean WRITE = Boolean.getBoolean("indwell.golden.write");

  static List<Story> stories() throws IOException {
    return Story.all();
  }

  @ParameterizedTest
  @MethodSource("stories")
  void the_intake_accepts_every_event(Story story) throws IOException {
    assertThat(story.readings()).isNotEmpty().allMatch(one -> one instanceof Reading.Accepted);
  }

  @ParameterizedTest
  @MethodSource("stories")
  void the_resources_are_the_golden_ones(Story story) throws IOException {
    compare(story, "1-resources.ndjson", StoryResources.of(story));
  }

  @ParameterizedTest
  @MethodSource("stories")
  void the_device_days_are_the_golden_ones(Story story) throws IOException {
    compare(story, "2-device-days.csv", new StoryText(story).deviceDays());
  }

  @ParameterizedTest
  @MethodSource("stories")
  void the_reports_are_the_golden_ones(Story story) throws IOException {
    compare(story, "2-device-day-reports.ndjson", new StoryText(story).reports());
  }

  @ParameterizedTest
  @MethodSource("stories")
  void the_catheter_days_are_the_golden_ones(Story story) throws IOException {
    compare(story, "2-catheter-days.txt", new StoryText(story).catheterDays());
  }

  @ParameterizedTest
  @MethodSource("stories")
  void the_flags_are_the_golden_ones(Story story) throws IOException {
    compare(story, "3-flags.txt", new StoryText(story).flags());
  }

  private static void compare(Story story, String name, String text) throws IOException {
    Path golden = story.folder().resolve(name);
    if (WRITE) {
      Files.writeString(golden, text);
    }
    assertThat(text).isEqualTo(Files.readString(golden));
  }
}
