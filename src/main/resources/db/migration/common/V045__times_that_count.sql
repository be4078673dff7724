-- Time of patients in inpatient wards, and the one part of it with a catheter that counts: empty, at
-- the start of the time, where there is none; where a second catheter comes the time is cut. Before,
-- it was cut where a catheter came or went, which took three rows for what mostly takes one.
-- The rows are made by the program, which sees by "whereabouts_index" that an older release was here.
DROP TABLE counted_time;

CREATE TABLE counted_time (
  patient_id ${text}  NOT NULL,
  position   INTEGER  NOT NULL,
  ward       ${text}  NOT NULL,
  start_at   BIGINT   NOT NULL,
  end_at     BIGINT   NOT NULL,
  with_start BIGINT   NOT NULL,
  with_end   BIGINT   NOT NULL,
  PRIMARY KEY (patient_id, position)
) ${clustered};
CREATE INDEX counted_time_of_ward ON counted_time (ward, end_at, start_at, with_start, with_end);
