package indwell.boot.cli;

import java.io.Console;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Tells whether somebody looks at standard error. */
final class Terminal {
  /** Linux names here what standard error is; elsewhere the file is not there. */
  private static final Path STANDARD_ERROR = Path.of("/proc/self/fd/2");

  private Terminal() {}

  /** Whether standard error is a terminal; standard output may be a file all the same. */
  static boolean seesErrors() {
    if (!Files.exists(STANDARD_ERROR)) {
      return isConsole();
    }
    try {
      return isTerminal(Files.readSymbolicLink(STANDARD_ERROR));
    } catch (IOException unreadable) {
      return isConsole();
    }
  }

  /** Whether a device of that name is a terminal. */
  static boolean isTerminal(Path device) {
    String name = device.toString();
    return name.startsWith("/dev/pts/")
        || name.startsWith("/dev/tty")
        || name.equals("/dev/console");
  }

  // From JDK 22 on a console is there without a terminal too, and can be asked.
  @SuppressWarnings("SystemConsoleNull")
  private static boolean isConsole() {
    Console console = System.console();
    if (console == null) {
      return false;
    }
    try {
      return (boolean) Console.class.getMethod("isTerminal").invoke(console);
    } catch (ReflectiveOperationException beforeJdk22) {
      return true;
    }
  }
}
