package indwell.faults;

import indwell.contract.Folders;
import indwell.contract.TestPostgres;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** A new, empty store, and where it is. */
record Place(String kind, String where) implements AutoCloseable {
  static final List<String> KINDS = List.of("sqlite", "postgresql");

  static Place of(String kind) throws IOException {
    return new Place(
        kind,
        kind.equals("sqlite")
            ? Files.createTempDirectory("indwell-faults-").toString()
            : TestPostgres.newDatabase());
  }

  Round round(long seed) {
    return new Round(kind, where, seed);
  }

  /** Removes the folder; databases go with their server. */
  @Override
  public void close() throws IOException {
    if (kind.equals("sqlite")) {
      Folders.delete(Path.of(where));
    }
  }
}
