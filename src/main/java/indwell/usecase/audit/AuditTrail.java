package indwell.usecase.audit;

import indwell.port.AuditEntry;

/** Where rows go that are not written together with what they are about. */
public interface AuditTrail {
  /** Keeps nothing. */
  AuditTrail NONE =
      new AuditTrail() {
        @Override
        public boolean hasRoom() {
          return true;
        }

        @Override
        public void add(AuditEntry entry) {}
      };

  /** Whether so few rows wait that another access may be granted. */
  boolean hasRoom();

  /** Takes a row that will be written soon; never waits. */
  void add(AuditEntry entry);
}
