-- Time of patients in inpatient wards, with a catheter that counts or without: the days of
-- surveillance are counted from these rows. Times are rounded up to the millisecond, which changes
-- nothing for count times, since those are whole seconds. The rows are made by the program, which
-- works them out for all patients when "whereabouts_index" says that an older release was here.
CREATE TABLE counted_time (
  patient_id    ${text}  NOT NULL,
  position      INTEGER  NOT NULL,
  ward          ${text}  NOT NULL,
  with_catheter SMALLINT NOT NULL,
  start_at      BIGINT   NOT NULL,
  end_at        BIGINT   NOT NULL,
  PRIMARY KEY (patient_id, position)
) ${clustered};
CREATE INDEX counted_time_of_ward ON counted_time (ward, end_at, start_at, with_catheter);

-- Whether there are remarks on the record of the patient.
ALTER TABLE ward_span ADD COLUMN doubtful SMALLINT NOT NULL DEFAULT 0;
CREATE INDEX ward_span_doubtful ON ward_span (ward, end_at) WHERE doubtful = 1;

CREATE TABLE whereabouts_index (
  id      INTEGER PRIMARY KEY,
  version INTEGER NOT NULL
);
INSERT INTO whereabouts_index (id, version) VALUES (1, 0);
