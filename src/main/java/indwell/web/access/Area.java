package indwell.web.access;

import java.util.Set;

/** Which part of the service an address belongs to; whatever is not known here is a page. */
enum Area {
  /** Answered whoever asks. */
  OPEN,
  FHIR,
  EVENTS,
  SURVEILLANCE,
  PUBLISHING,
  METRICS,
  /** For people, who log in. */
  PAGES;

  /** Nothing of a patient is told there. */
  static final Set<String> OPEN_PATHS =
      Set.of(
          "/fhir/metadata",
          "/fhir/.well-known/smart-configuration",
          "/.well-known/smart-configuration",
          "/indwell.css",
          LoginPages.LOGIN,
          LoginPages.BACK,
          "/q/health",
          "/q/health/live",
          "/q/health/ready",
          "/q/health/started",
          "/q/health/well");

  /**
   * The area of an address.
   *
   * @param path as it was sent: one that is written otherwise is not open
   */
  static Area of(String path) {
    return OPEN_PATHS.contains(path) ? OPEN : place(path);
  }

  /** The part that the address lies in, open or not: errors have the shape of that part. */
  static Area place(String path) {
    if (within(path, "/fhir")) {
      return FHIR;
    }
    if (within(path, "/events")) {
      return EVENTS;
    }
    if (within(path, "/publishing")) {
      return PUBLISHING;
    }
    if (within(path, "/metrics")) {
      return METRICS;
    }
    return within(path, "/surveillance") ? SURVEILLANCE : PAGES;
  }

  private static boolean within(String path, String root) {
    return path.equals(root) || path.startsWith(root + "/");
  }
}
