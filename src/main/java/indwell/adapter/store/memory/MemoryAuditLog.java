package indwell.adapter.store.memory;

import indwell.port.AuditEntry;
import indwell.port.AuditLog;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** An audit trail that is gone with the process; what the others have to mean. */
public final class MemoryAuditLog implements AuditLog {
  private final List<Numbered> rows = new ArrayList<>();

  @Override
  public synchronized void append(List<AuditEntry> entries) {
    entries.forEach(entry -> rows.add(new Numbered(rows.size() + 1L, entry)));
  }

  @Override
  public synchronized List<Numbered> find(Question question) {
    List<Numbered> found = new ArrayList<>();
    for (int i = rows.size() - 1; i >= 0 && found.size() < question.limit(); i--) {
      if (meets(rows.get(i), question)) {
        found.add(rows.get(i));
      }
    }
    return found;
  }

  private static boolean meets(Numbered row, Question question) {
    AuditEntry entry = row.entry();
    return question.from().filter(entry.at()::isBefore).isEmpty()
        && question.endExclusive().filter(end -> !entry.at().isBefore(end)).isEmpty()
        && same(question.client(), Optional.of(entry.agent().client()))
        && same(question.patient(), entry.patient())
        && same(question.entity(), entry.entity())
        && question.belowNumber().filter(number -> row.number() >= number).isEmpty();
  }

  private static boolean same(Optional<String> asked, Optional<String> there) {
    return asked.isEmpty() || asked.equals(there);
  }
}
