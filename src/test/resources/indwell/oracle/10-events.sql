-- The events that stand, in the contract's order, once for every reading.

-- The highest version of each event, whatever the order of arrival, unless it takes the event back.
CREATE OR REPLACE TABLE current_event AS
SELECT * EXCLUDE (newest)
FROM (
  SELECT *, row_number() OVER (PARTITION BY case_id, source, event_id ORDER BY version DESC) AS newest
  FROM fact
)
WHERE newest = 1 AND NOT withdrawn;

-- A patient's history is read as a whole (as_of NULL) for the denominator, and once for each question,
-- which leaves out what happened after it; an event exactly at as_of is not left out.
CREATE OR REPLACE TABLE reading AS
SELECT row_number() OVER () AS reading_id, *
FROM (
  SELECT DISTINCT case_id, patient, NULL::BIGINT AS as_of FROM current_event
  UNION ALL
  SELECT DISTINCT case_id, patient, as_of FROM question
);

-- Within one instant: admitted, transferred, inserted, exchanged, all else, removed, discharged; then
-- by source, then by event id, by code point (DuckDB compares text by its bytes, in UTF-8 the same).
CREATE OR REPLACE TABLE event AS
SELECT r.reading_id, e.*,
  row_number() OVER (
    PARTITION BY r.reading_id
    ORDER BY e.moment,
      CASE e.type
        WHEN 'patient-admitted' THEN 1
        WHEN 'patient-transferred' THEN 2
        WHEN 'catheter-inserted' THEN 3
        WHEN 'catheter-exchanged' THEN 4
        WHEN 'catheter-removed' THEN 6
        WHEN 'patient-discharged' THEN 7
        ELSE 5
      END,
      e.source, e.event_id) AS n
FROM reading r JOIN current_event e USING (case_id, patient)
WHERE r.as_of IS NULL OR e.moment <= r.as_of;

-- The local date of every instant that a count may start or end at.
CREATE OR REPLACE TABLE local_date AS
SELECT i.case_id, i.moment, c.date
FROM (
  SELECT case_id, moment FROM current_event
  UNION
  SELECT case_id, as_of FROM question
) i
JOIN facility f USING (case_id)
JOIN calendar c ON c.zone = f.zone AND c.starts_at <= i.moment AND i.moment < c.ends_at;
