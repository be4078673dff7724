-- The denominator: patients in an inpatient ward at its count time, and those of them with at least one
-- catheter that counts. From the start, inclusive, to the end, exclusive.

-- Every ward with an inpatient movement in a current event, ever, has all its rows.
CREATE OR REPLACE TABLE cell AS
SELECT w.case_id, w.ward, k.date, k.moment
FROM (
  SELECT DISTINCT case_id, ward FROM current_event
  WHERE type IN ('patient-admitted', 'patient-transferred') AND inpatient
) w
JOIN facility f USING (case_id)
LEFT JOIN ward_count_time own ON own.case_id = w.case_id AND own.ward = w.ward
JOIN clock k
  ON k.zone = f.zone AND k.count_time = coalesce(own.count_time, f.count_time)
  AND k.date BETWEEN f.first_date AND f.last_date;

CREATE OR REPLACE TABLE denominator AS
WITH present AS (
  SELECT c.case_id, c.ward, c.date, r.patient,
    EXISTS (
      FROM in_place p
      WHERE p.reading_id = r.reading_id AND p.counts
        AND p.from_at <= c.moment AND (p.to_at IS NULL OR c.moment < p.to_at)) AS with_catheter
  FROM cell c
  JOIN reading r ON r.case_id = c.case_id AND r.as_of IS NULL
  JOIN ward_time w
    ON w.reading_id = r.reading_id AND w.ward = c.ward AND w.inpatient
    AND w.from_at <= c.moment AND (w.to_at IS NULL OR c.moment < w.to_at)
)
SELECT c.case_id, c.ward, c.date,
  count(DISTINCT p.patient) AS patient_days,
  count(DISTINCT p.patient) FILTER (p.with_catheter) AS catheter_days
FROM cell c LEFT JOIN present p USING (case_id, ward, date)
GROUP BY ALL;
