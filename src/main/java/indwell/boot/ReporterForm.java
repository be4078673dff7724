package indwell.boot;

/** How reports refer to the facility, as it is configured. */
public enum ReporterForm {
  /** By an Organization within the report. */
  CONTAINED,
  /** By the identifier alone. */
  LOGICAL,
  /** By the address of an Organization elsewhere. */
  REFERENCE
}
