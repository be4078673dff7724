package indwell.boot.cli;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.sqlite.SqliteStore;
import indwell.port.ClinicalStore;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The copy of the embedded database; {@code RestoreDrillIT} lives from one. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class BackupCommandTest {
  @TempDir Path folder;

  @Test
  void an_open_database_is_copied_and_the_copy_is_one_itself() throws Exception {
    Path data = folder.resolve("data");
    Path copy = folder.resolve("again/indwell.db");
    Files.createDirectories(copy.getParent());
    try (ClinicalStore open = SqliteStore.open(data)) {
      Ran ran = Ran.command("backup", "--data-dir", data.toString(), copy.toString());

      assertThat(ran.code()).as(ran.err()).isZero();
      assertThat(ran.out()).isEmpty();
      assertThat(ran.err()).contains("0 versions of events are in " + copy);
      assertThat(open.available()).isTrue();
    }
    try (ClinicalStore restored = SqliteStore.open(copy.getParent())) {
      assertThat(restored.available()).isTrue();
    }
  }

  @Test
  void a_backup_replaces_nothing() throws Exception {
    Path data = folder.resolve("data");
    SqliteStore.open(data).close();
    Path there = Files.writeString(folder.resolve("there"), "the last good one");

    Ran ran = Ran.command("backup", "--data-dir", data.toString(), there.toString());

    assertThat(ran.code()).isEqualTo(2);
    assertThat(ran.err()).contains(there + " is there already");
    assertThat(there).hasContent("the last good one");
  }

  @Test
  void a_folder_without_a_database_is_named() {
    Ran ran = Ran.command("backup", "--data-dir", folder.toString(), folder + "/copy");

    assertThat(ran.code()).isEqualTo(2);
    assertThat(ran.err()).contains("There is no database " + folder.resolve("indwell.db"));
  }

  @Test
  void a_file_that_is_no_database_is_not_copied() throws Exception {
    Files.writeString(folder.resolve("indwell.db"), "nothing of the kind");

    Ran ran = Ran.command("backup", "--data-dir", folder.toString(), folder + "/copy");

    assertThat(ran.code()).isEqualTo(2);
    assertThat(ran.err()).contains("could not be copied");
  }

  @Test
  void a_place_that_cannot_be_written_is_named() throws Exception {
    Path data = folder.resolve("data");
    SqliteStore.open(data).close();

    Ran ran = Ran.command("backup", "--data-dir", data.toString(), folder + "/nowhere/copy");

    assertThat(ran.code()).isEqualTo(2);
    assertThat(ran.err()).contains("could not be copied to " + folder.resolve("nowhere/copy"));
  }
}
