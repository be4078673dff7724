package indwell.boot.cli;

import indwell.port.ProfileValidator.Finding;
import java.io.PrintWriter;

/** One line a finding, in the form that editors and people read: {@code file:line:column: …}. */
final class TextReport implements Report {
  private final PrintWriter out;

  TextReport(PrintWriter out) {
    this.out = out;
  }

  /** One finding: severity, code, where in the resource, what and by which rule. */
  static String line(Judged one, Finding finding) {
    String expression = finding.expression().isEmpty() ? "" : " " + finding.expression();
    return one.where(finding)
        + ": "
        + finding.severity().code()
        + " "
        + finding.code()
        + expression
        + ": "
        + finding.diagnostics();
  }

  @Override
  public void add(Judged one) {
    one.findings().forEach(finding -> out.println(line(one, finding)));
  }

  @Override
  public void close() {
    out.flush();
  }
}
