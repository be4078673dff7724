-- The eligibility count: dates of the latest stay with any portion of use.

CREATE OR REPLACE TABLE latest_stay AS
SELECT r.case_id, r.patient, r.as_of, s.*
FROM reading r JOIN stay s USING (reading_id)
WHERE r.as_of IS NOT NULL
QUALIFY row_number() OVER (PARTITION BY s.reading_id ORDER BY s.start_n DESC) = 1;

-- From the first local date of the stay through as_of or the day after its end, whichever is earlier.
CREATE OR REPLACE TABLE stay_date AS
SELECT reading_id, unnest(generate_series(first_date, last_date, INTERVAL 1 DAY))::DATE AS date
FROM (
  SELECT s.reading_id, d1.date AS first_date, least(d2.date, d3.date + 1) AS last_date
  FROM latest_stay s
  JOIN local_date d1 ON d1.case_id = s.case_id AND d1.moment = s.start_at
  JOIN local_date d2 ON d2.case_id = s.case_id AND d2.moment = s.as_of
  LEFT JOIN local_date d3 ON d3.case_id = s.case_id AND d3.moment = s.end_at
);

-- Every date from that of the start of a time in place through that of its end is a date with the
-- catheter, also when the end is exactly midnight, and in any area: inside the stay or out of it.
CREATE OR REPLACE TABLE present_date AS
SELECT DISTINCT reading_id,
  unnest(generate_series(first_date, last_date, INTERVAL 1 DAY))::DATE AS date
FROM (
  SELECT s.reading_id, d1.date AS first_date, d2.date AS last_date
  FROM latest_stay s
  JOIN in_place p ON p.reading_id = s.reading_id AND p.counts
  JOIN local_date d1 ON d1.case_id = s.case_id AND d1.moment = p.from_at
  JOIN local_date d2 ON d2.case_id = s.case_id AND d2.moment = least(p.to_at, s.as_of)
);

-- The dates that the count runs over: the same for what lies within the stay. What does is told by the
-- order of the events, so that a removal at the instant of the admission still falls into the stay.
CREATE OR REPLACE TABLE used_date AS
SELECT DISTINCT reading_id,
  unnest(generate_series(first_date, last_date, INTERVAL 1 DAY))::DATE AS date
FROM (
  SELECT s.reading_id, d1.date AS first_date, d2.date AS last_date
  FROM latest_stay s
  JOIN in_place p
    ON p.reading_id = s.reading_id AND p.counts
    AND (s.end_n IS NULL OR p.from_n < s.end_n) AND (p.to_n IS NULL OR p.to_n > s.start_n)
  JOIN local_date d1 ON d1.case_id = s.case_id AND d1.moment = greatest(p.from_at, s.start_at)
  JOIN local_date d2 ON d2.case_id = s.case_id AND d2.moment = least(p.to_at, s.end_at, s.as_of)
);

-- Inpatient time of the stay. Where two arrivals of one instant disagree the last decides: the ward of
-- the other was never entered. (One who left at the instant of arriving had arrived all the same.)
CREATE OR REPLACE TABLE inpatient_time AS
SELECT s.case_id, w.*
FROM latest_stay s JOIN ward_time w USING (reading_id, encounter)
WHERE w.inpatient AND NOT w.overruled;

CREATE OR REPLACE TABLE first_inpatient AS
SELECT i.reading_id, min(d.date) AS date
FROM inpatient_time i JOIN local_date d ON d.case_id = i.case_id AND d.moment = i.from_at
GROUP BY ALL;

-- The count starts no earlier than the first inpatient date, goes on from date to date in any area, and
-- starts anew after a date without a catheter: consecutive dates are one island.
CREATE OR REPLACE TABLE numbered_date AS
SELECT reading_id, date, row_number() OVER (PARTITION BY reading_id, island ORDER BY date) AS number
FROM (
  SELECT p.reading_id, p.date,
    p.date - row_number() OVER (PARTITION BY p.reading_id ORDER BY p.date)::INTEGER AS island
  FROM used_date p JOIN first_inpatient f ON f.reading_id = p.reading_id AND p.date >= f.date
);

-- The first inpatient ward of each date of the stay.
CREATE OR REPLACE TABLE first_ward AS
SELECT s.reading_id, s.date, arg_min(i.ward, i.from_n) AS ward
FROM stay_date s
JOIN latest_stay l USING (reading_id)
JOIN facility f USING (case_id)
JOIN calendar c ON c.zone = f.zone AND c.date = s.date
JOIN inpatient_time i
  ON i.reading_id = s.reading_id
  AND i.from_at < c.ends_at
  AND (i.to_at IS NULL OR c.starts_at < i.to_at OR c.starts_at <= i.from_at)
GROUP BY ALL;

-- Eligible from day 3 on, and on the date after one that had reached day 3.
-- The ward is the first of the day before; on the first inpatient date that of the date itself.
CREATE OR REPLACE TABLE eligibility AS
SELECT l.case_id, l.patient, l.as_of, s.date, n.number,
  p.date IS NOT NULL AS present,
  coalesce(n.number >= 3, FALSE) OR coalesce(before.number >= 3, FALSE) AS eligible,
  CASE
    WHEN s.date = f.date THEN today.ward
    WHEN s.date > f.date THEN yesterday.ward
  END AS ward
FROM stay_date s
JOIN latest_stay l USING (reading_id)
LEFT JOIN present_date p ON p.reading_id = s.reading_id AND p.date = s.date
LEFT JOIN numbered_date n ON n.reading_id = s.reading_id AND n.date = s.date
LEFT JOIN numbered_date before ON before.reading_id = s.reading_id AND before.date = s.date - 1
LEFT JOIN first_inpatient f ON f.reading_id = s.reading_id
LEFT JOIN first_ward today ON today.reading_id = s.reading_id AND today.date = s.date
LEFT JOIN first_ward yesterday ON yesterday.reading_id = s.reading_id AND yesterday.date = s.date - 1;

-- The longest-standing catheter in place at as_of; the insertion day is day 1.
CREATE OR REPLACE TABLE longest_standing AS
SELECT o.case_id, o.patient, o.as_of, o.since, (a.date - i.date + 1)::INTEGER AS catheter_day
FROM (
  SELECT r.case_id, r.patient, r.as_of, min(p.inserted_at) AS since
  FROM reading r JOIN in_place p USING (reading_id)
  WHERE r.as_of IS NOT NULL AND p.counts AND (p.to_at IS NULL OR r.as_of < p.to_at)
  GROUP BY ALL
) o
JOIN local_date i ON i.case_id = o.case_id AND i.moment = o.since
JOIN local_date a ON a.case_id = o.case_id AND a.moment = o.as_of;
