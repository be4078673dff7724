package indwell.boot.cli;

import indwell.port.ProfileValidator.Finding;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;
import org.jspecify.annotations.Nullable;

/**
 * JUnit XML, as build servers read it: a suite a file, a test case a resource. A resource with
 * errors is a failure; warnings and remarks stand in the output of the case. How many failed comes
 * before the cases, so the cases of a file wait in a file of their own until it has ended.
 */
final class JunitReport implements Report {
  private static final XMLOutputFactory XML = XMLOutputFactory.newFactory();

  private final PrintWriter out;
  private @Nullable Suite suite;

  JunitReport(PrintWriter out) {
    this.out = out;
    out.println("<?xml version=\"1.0\" encoding=\"UTF-8\"?>");
    out.println("<testsuites name=\"indwell validate\">");
  }

  /** The cases of one file. */
  private static final class Suite {
    private final Path file;
    private final String name;
    private final Spool cases;
    private long tests;
    private long failures;

    Suite(Judged first) throws IOException {
      this.file = first.file();
      this.name = first.fileName();
      this.cases = new Spool();
    }
  }

  @Override
  public void add(Judged one) {
    try {
      if (suite == null || !suite.file.equals(one.file())) {
        endSuite();
        suite = new Suite(one);
      }
      suite.tests++;
      suite.failures += one.hasErrors() ? 1 : 0;
      writeCase(one, suite);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (XMLStreamException e) {
      throw new IllegalStateException("A report could not be written", e);
    }
  }

  @Override
  public void close() {
    try {
      endSuite();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (XMLStreamException e) {
      throw new IllegalStateException("A report could not be written", e);
    }
    out.println("</testsuites>");
    out.flush();
  }

  private void endSuite() throws IOException, XMLStreamException {
    if (suite == null) {
      return;
    }
    XMLStreamWriter xml = XML.createXMLStreamWriter(out);
    xml.writeStartElement("testsuite");
    attribute(xml, "name", suite.name);
    attribute(xml, "tests", String.valueOf(suite.tests));
    attribute(xml, "failures", String.valueOf(suite.failures));
    attribute(xml, "errors", "0");
    attribute(xml, "skipped", "0");
    xml.writeCharacters("\n");
    xml.flush();
    suite.cases.moveTo(out);
    xml.writeEndElement();
    xml.flush();
    out.println();
    suite = null;
  }

  private static void writeCase(Judged one, Suite suite) throws XMLStreamException {
    XMLStreamWriter xml = XML.createXMLStreamWriter(suite.cases.writer());
    xml.writeStartElement("testcase");
    attribute(xml, "name", suite.name + ":" + one.line() + " " + one.name());
    attribute(xml, "classname", suite.name);
    attribute(xml, "file", suite.name);
    attribute(xml, "line", String.valueOf(one.line()));
    List<Finding> errors = one.findings().stream().filter(Finding::isError).toList();
    if (!errors.isEmpty()) {
      xml.writeStartElement("failure");
      attribute(xml, "type", errors.get(0).code());
      attribute(xml, "message", headline(errors));
      text(xml, lines(one, errors));
      xml.writeEndElement();
    }
    List<Finding> others = one.findings().stream().filter(found -> !found.isError()).toList();
    if (!others.isEmpty()) {
      xml.writeStartElement("system-out");
      text(xml, lines(one, others));
      xml.writeEndElement();
    }
    xml.writeEndElement();
    xml.writeCharacters("\n");
    xml.flush();
  }

  private static String headline(List<Finding> errors) {
    String first = errors.get(0).diagnostics();
    return errors.size() == 1 ? first : first + " And " + (errors.size() - 1) + " more.";
  }

  private static String lines(Judged one, List<Finding> findings) {
    return findings.stream()
        .map(finding -> TextReport.line(one, finding))
        .collect(Collectors.joining("\n", "\n", "\n"));
  }

  private static void attribute(XMLStreamWriter xml, String name, String value)
      throws XMLStreamException {
    xml.writeAttribute(name, allowed(value));
  }

  private static void text(XMLStreamWriter xml, String text) throws XMLStreamException {
    xml.writeCharacters(allowed(text));
  }

  /** XML has no way to write most control characters and half a surrogate pair. */
  private static String allowed(String text) {
    StringBuilder allowed = new StringBuilder(text.length());
    text.codePoints()
        .forEach(point -> allowed.appendCodePoint(isAllowed(point) ? point : '\ufffd'));
    return allowed.toString();
  }

  /** Source: XML 1.0, production Char. */
  private static boolean isAllowed(int point) {
    return point == '\n'
        || point == '\t'
        || (point >= 0x20 && point <= 0xd7ff)
        || (point >= 0xe000 && point <= 0xfffd)
        || point >= 0x10000;
  }
}
