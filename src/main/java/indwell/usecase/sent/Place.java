package indwell.usecase.sent;

/**
 * Where a resource stands in what was sent.
 *
 * @param words for people: {@code line 12}
 * @param expression its FHIRPath; empty where there is none, as in a line
 */
public record Place(String words, String expression) {

  /** A line of an NDJSON body, from 1. */
  public static Place line(int number) {
    return new Place("line " + number, "");
  }

  /**
   * An entry of a Bundle.
   *
   * @param bundle FHIRPath of the Bundle
   * @param index of the entry, from 0
   */
  public static Place entry(String bundle, int index) {
    String path = bundle + ".entry[" + index + "]";
    return new Place("entry " + index + (bundle.equals("Bundle") ? "" : " of " + bundle), path);
  }

  /** An element there: what an issue of a resource calls {@code Procedure.code}. */
  String at(String element) {
    if (expression.isEmpty() || element.isEmpty()) {
      return expression.isEmpty() ? element : expression;
    }
    int dot = element.indexOf('.');
    return expression + ".resource" + (dot < 0 ? "" : element.substring(dot));
  }
}
