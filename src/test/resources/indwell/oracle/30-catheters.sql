-- Catheters: when each was in place.

-- Everything that may change the state of a catheter.
--   put        an insertion of it, or an exchange that names it as the replacement
--   out        a removal of it, or an exchange of it
--   left       the patient left, and not with the catheter on purpose
--   rests      the patient left with the catheter on purpose
--   back       the patient arrived
CREATE OR REPLACE TABLE touch AS
WITH named AS (
  SELECT reading_id, n, moment, catheter, 'put' AS kind, route, drainage
  FROM event WHERE type = 'catheter-inserted'
  UNION ALL
  SELECT reading_id, n, moment, replacement, 'put', route, drainage
  FROM event WHERE type = 'catheter-exchanged'
  UNION ALL
  SELECT reading_id, n, moment, catheter, 'out', NULL, NULL
  FROM event WHERE type IN ('catheter-removed', 'catheter-exchanged')
),
of_the_patient AS (
  SELECT reading_id, n, moment,
    CASE
      WHEN effect = 'arrives' THEN 'back'
      WHEN with_catheter THEN 'rests'
      ELSE 'left'
    END AS kind
  FROM movement
  WHERE effect IN ('leaves', 'arrives')
)
SELECT * FROM named
UNION ALL
SELECT p.reading_id, p.n, p.moment, c.catheter, p.kind, NULL, NULL
FROM of_the_patient p
JOIN (SELECT DISTINCT reading_id, catheter FROM named) c USING (reading_id);

-- Of several events that put one catheter in at one instant the last decides, unless it went out between.
CREATE OR REPLACE TABLE deciding_touch AS
SELECT * FROM touch
WINDOW of_catheter AS (PARTITION BY reading_id, catheter ORDER BY n)
QUALIFY NOT (
  kind = 'put'
  AND coalesce(lead(kind) OVER of_catheter = 'put' AND lead(moment) OVER of_catheter = moment, FALSE));

-- The state after each of them. Put and out decide whatever was before, so the touches fall into runs
-- that begin with one of these; within a run begun by a put, the catheter is in place until the patient
-- leaves without it, save while it rests (nothing ends it then but an out).
CREATE OR REPLACE TABLE catheter_state AS
WITH run AS (
  SELECT *,
    count(*) FILTER (kind IN ('put', 'out')) OVER (PARTITION BY reading_id, catheter ORDER BY n) AS run
  FROM deciding_touch
),
resting AS (
  SELECT *,
    first_value(kind) OVER within_run AS begun_by,
    last_value(CASE WHEN kind IN ('put', 'rests', 'back') THEN kind END IGNORE NULLS)
      OVER within_run = 'rests' AS is_resting
  FROM run
  WINDOW within_run AS (PARTITION BY reading_id, catheter, run ORDER BY n)
),
ended AS (
  SELECT *,
    begun_by <> 'put' OR bool_or(kind = 'left' AND NOT is_resting) OVER within_run AS is_out
  FROM resting
  WINDOW within_run AS (PARTITION BY reading_id, catheter, run ORDER BY n)
)
SELECT reading_id, catheter, n, moment, kind, route, drainage,
  CASE WHEN is_out THEN 'out' WHEN is_resting THEN 'resting' ELSE 'in place' END AS state
FROM ended;

-- Time in place: from what put it there (or the admission that ended its rest) to what ended it. An
-- insertion of a catheter in place changes nothing. inserted_at, route and drainage are those of the
-- put that found it not in place. Only urethral catheters with a drainage bag count.
CREATE OR REPLACE TABLE in_place AS
WITH changed AS (
  SELECT *, kind = 'put' AND was <> 'in place' AS put_in
  FROM (
    SELECT *, lag(state, 1, 'out') OVER (PARTITION BY reading_id, catheter ORDER BY n) AS was
    FROM catheter_state
  )
  WHERE state <> was
),
placed AS (
  SELECT *,
    last_value(CASE WHEN put_in THEN moment END IGNORE NULLS) OVER so_far AS inserted_at,
    last_value(CASE WHEN put_in THEN route = 'urethral' AND drainage = 'bag' END IGNORE NULLS)
      OVER so_far AS counts,
    lead(n) OVER so_far AS to_n,
    lead(moment) OVER so_far AS to_at
  FROM changed
  WINDOW so_far AS (PARTITION BY reading_id, catheter ORDER BY n)
)
SELECT reading_id, catheter, inserted_at, counts, n AS from_n, moment AS from_at, to_n, to_at
FROM placed WHERE state = 'in place';
