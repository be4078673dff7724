package indwell.port;

/**
 * A file of an export: one resource a line.
 *
 * @param type the one resource type in it
 * @param name within the folder of the job
 * @param count of resources, which is that of lines
 */
public record ExportFile(Kind kind, String type, String name, long count) {

  /** In which list of the manifest it stands. */
  public enum Kind {
    OUTPUT,
    DELETED,
    ERROR
  }
}
