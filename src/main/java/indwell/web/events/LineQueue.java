package indwell.web.events;

import indwell.intake.LineSplitter.Line;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;

/**
 * Lines of a stream that wait to be recorded. The connection adds them, one worker at a time takes
 * them; who has the turn is settled here.
 */
final class LineQueue {
  /** What a line costs beside its bytes. */
  private static final int OVERHEAD = 64;

  private final int mostLines;
  private final long mostBytes;
  private final Deque<Line> lines = new ArrayDeque<>();
  private long bytes;
  private boolean ended;
  private boolean worked;

  LineQueue(int mostLines, long mostBytes) {
    this.mostLines = mostLines;
    this.mostBytes = mostBytes;
  }

  synchronized void add(Line line) {
    if (!ended) {
      lines.addLast(line);
      bytes += cost(line);
    }
  }

  /** No line follows. */
  synchronized void end() {
    ended = true;
  }

  /** No line follows, and those that wait are dropped. */
  synchronized void drop() {
    ended = true;
    lines.clear();
    bytes = 0;
  }

  /** Whether the sender should wait. */
  synchronized boolean full() {
    return lines.size() >= mostLines || bytes >= mostBytes;
  }

  /** Whether a sender that waits should go on: well below the mark, so that it does not flutter. */
  synchronized boolean hasRoom() {
    return lines.size() <= mostLines / 2 && bytes <= mostBytes / 2;
  }

  /** Takes the turn to work, if there is work and nobody has the turn. */
  synchronized boolean takeTurn() {
    if (worked || (lines.isEmpty() && !ended)) {
      return false;
    }
    worked = true;
    return true;
  }

  /** The next lines, at most so many; when there is none the turn is given back. */
  synchronized List<Line> take(int most) {
    List<Line> next = new ArrayList<>();
    while (next.size() < most && !lines.isEmpty()) {
      Line line = lines.removeFirst();
      bytes -= cost(line);
      next.add(line);
    }
    worked = !next.isEmpty();
    return next;
  }

  /** Whether the last line has been taken and none follows. */
  synchronized boolean finished() {
    return ended && lines.isEmpty();
  }

  private static long cost(Line line) {
    return (long) OVERHEAD + line.bytes().map(content -> content.length).orElse(0);
  }
}
