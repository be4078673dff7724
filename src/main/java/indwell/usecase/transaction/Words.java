package indwell.usecase.transaction;

import indwell.domain.refusal.Visible;
import indwell.fhir.bundle.TakenProfile;
import java.util.Arrays;
import java.util.stream.Collectors;

/** Parts of sentences. */
public final class Words {
  private static final int MOST = 120;

  private Words() {}

  /** What a caller sent, short and without characters that could mislead. */
  public static String shown(String given) {
    return Visible.quoted(given, MOST);
  }

  /** All types that are taken. */
  static String types() {
    return Arrays.stream(TakenProfile.values())
        .map(TakenProfile::type)
        .distinct()
        .collect(Collectors.joining(", "));
  }

  /** The profiles of one type that are taken. */
  static String profiles(String type) {
    return TakenProfile.ofType(type).stream()
        .map(TakenProfile::canonical)
        .collect(Collectors.joining(", "));
  }
}
