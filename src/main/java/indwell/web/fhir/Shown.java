package indwell.web.fhir;

import indwell.domain.refusal.Visible;

/** Shows in a sentence what a caller sent, short and without characters that could mislead. */
final class Shown {
  private static final int MOST = 60;

  private Shown() {}

  static String text(String given) {
    return Visible.quoted(given, MOST);
  }
}
