package indwell.intake;

/** Whether a version of an event states something or takes it back. */
enum EventStatus {
  FINAL("final"),
  ENTERED_IN_ERROR("entered-in-error");

  private final String code;

  EventStatus(String code) {
    this.code = code;
  }

  /** The code on the wire. */
  String code() {
    return code;
  }
}
