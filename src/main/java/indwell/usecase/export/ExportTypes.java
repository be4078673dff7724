package indwell.usecase.export;

import indwell.usecase.ReadResources;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/** What can be exported. */
public final class ExportTypes {
  /** Types outside the Patient compartment, which help to read what is in it. */
  public static final Set<String> SUPPORTING = Set.of("Device", "Location");

  private ExportTypes() {}

  /** The types, ascending: those that are stored, and the flags, which are worked out. */
  public static List<String> all() {
    return Stream.concat(ReadResources.TYPES.stream(), Stream.of("Flag"))
        .distinct()
        .sorted()
        .toList();
  }
}
