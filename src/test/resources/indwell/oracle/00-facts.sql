-- What the counters are asked about. Java fills these tables and nothing else: raw facts as they were
-- sent, facts of the calendar, and the questions. Instants are milliseconds since 1970-01-01T00:00Z.

-- One row an event version that arrived, in no order; the same version may stand here more than once.
CREATE TABLE fact (
  case_id INTEGER,        -- a history of its own: cases never meet
  source VARCHAR, event_id VARCHAR, version INTEGER, withdrawn BOOLEAN,
  type VARCHAR, moment BIGINT, patient VARCHAR, encounter VARCHAR,
  ward VARCHAR, inpatient BOOLEAN,                       -- admissions and transfers
  with_catheter BOOLEAN,                                 -- discharges
  catheter VARCHAR,                                      -- of an exchange: the old one
  replacement VARCHAR,                                   -- exchanges
  route VARCHAR, drainage VARCHAR, before_admission BOOLEAN  -- of what an insertion or exchange puts in
);

-- The facility of a case, and the dates of the denominator that are asked for, both inclusive.
CREATE TABLE facility (
  case_id INTEGER, zone VARCHAR, count_time VARCHAR, first_date DATE, last_date DATE
);

-- Count times that single wards have set for themselves.
CREATE TABLE ward_count_time (case_id INTEGER, ward VARCHAR, count_time VARCHAR);

-- Whose catheter days are asked for, and as of when.
CREATE TABLE question (case_id INTEGER, patient VARCHAR, as_of BIGINT);

-- The calendar of a zone: a date lasts from starts_at, inclusive, to ends_at, exclusive. A date that a
-- zone left out is empty.
CREATE TABLE calendar (zone VARCHAR, date DATE, starts_at BIGINT, ends_at BIGINT);

-- When the clocks of a zone show a time on a date: in a gap the first instant after it, in an overlap
-- the earlier of the two.
CREATE TABLE clock (zone VARCHAR, count_time VARCHAR, date DATE, moment BIGINT);
