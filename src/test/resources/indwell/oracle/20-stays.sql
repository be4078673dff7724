-- Stays: one encounter of a patient each.

-- What each movement did. This one is a walk from movement to movement, not a window: whether an
-- admission ends other stays depends on whether its own stay had ended, which depends on whether earlier
-- admissions did anything, and so on to the first.
--   arrives   an admission or transfer of a stay that has not ended; the first one opens it
--   leaves    a discharge, from the stay that the patient is in or while they are in none
--   closes    a discharge from a stay that the patient is not in: they are elsewhere, and stay there
--   nothing   any movement of a stay that has ended
CREATE OR REPLACE TABLE movement AS
WITH RECURSIVE
numbered AS (
  SELECT *, row_number() OVER (PARTITION BY reading_id ORDER BY n) AS m
  FROM (
    -- Of several discharges of one stay at one instant the last decides; the others are as if unsaid.
    SELECT * FROM event
    WHERE type IN ('patient-admitted', 'patient-transferred', 'patient-discharged')
    QUALIFY type <> 'patient-discharged'
      OR n = max(n) OVER (PARTITION BY reading_id, type, encounter, moment)
  )
),
walk AS (
  SELECT reading_id, 0::BIGINT AS m,
    NULL::VARCHAR AS effect, NULL::BOOLEAN AS opens,
    []::VARCHAR[] AS begun, []::VARCHAR[] AS ended,
    NULL::VARCHAR AS here                      -- the stay that the patient is in
  FROM reading
  UNION ALL
  SELECT reading_id, m, effect, opens,
    CASE WHEN opens THEN list_append(begun, encounter) ELSE begun END,
    CASE
      WHEN effect IN ('leaves', 'closes') AND list_contains(begun, encounter)
        THEN list_append(ended, encounter)
      -- The admission of another encounter ends every stay but its own.
      WHEN effect = 'arrives' AND type = 'patient-admitted'
        THEN list_filter(begun, lambda other: other <> encounter)
      ELSE ended
    END,
    CASE effect WHEN 'arrives' THEN encounter WHEN 'leaves' THEN NULL ELSE here END
  FROM (
    SELECT v.reading_id, v.m, v.type, v.encounter, w.begun, w.ended, w.here,
      CASE
        WHEN list_contains(w.ended, v.encounter) THEN 'nothing'
        WHEN v.type <> 'patient-discharged' THEN 'arrives'
        WHEN w.here IS NULL OR w.here = v.encounter THEN 'leaves'
        ELSE 'closes'
      END AS effect,
      v.type <> 'patient-discharged' AND NOT list_contains(w.begun, v.encounter) AS opens
    FROM walk w JOIN numbered v ON v.reading_id = w.reading_id AND v.m = w.m + 1
  )
)
SELECT v.reading_id, v.n, v.moment, v.type, v.encounter, v.ward, v.inpatient, v.with_catheter,
  w.effect, w.opens
FROM walk w JOIN numbered v USING (reading_id, m);

-- A stay lasts from the movement that opened it until its own discharge or the admission of another
-- encounter, whichever comes first; end_n and end_at are NULL while it lasts.
CREATE OR REPLACE TABLE stay AS
SELECT o.reading_id, o.encounter, o.n AS start_n, o.moment AS start_at,
  min(e.n) AS end_n, min(e.moment) AS end_at
FROM movement o
LEFT JOIN movement e
  ON e.reading_id = o.reading_id AND e.n > o.n
  AND CASE
        WHEN e.encounter = o.encounter THEN e.effect IN ('leaves', 'closes')
        ELSE e.effect = 'arrives' AND e.type = 'patient-admitted'
      END
WHERE o.opens
GROUP BY ALL;

-- Where the patient was: from an arrival until the next one, of whichever stay, or the end of its stay.
-- Overruled is what another arrival of the same instant took back.
CREATE OR REPLACE TABLE ward_time AS
SELECT a.reading_id, a.encounter, a.ward, a.inpatient, a.n AS from_n, a.moment AS from_at,
  least(a.next_at, s.end_at) AS to_at,         -- least() looks past NULLs; exclusive
  coalesce(a.next_at = a.moment, FALSE) AS overruled
FROM (
  SELECT *, lead(moment) OVER (PARTITION BY reading_id ORDER BY n) AS next_at
  FROM movement WHERE effect = 'arrives'
) a
JOIN stay s USING (reading_id, encounter);
