-- What the newest version of a resource is found by, in one row instead of some six rows in three tables
-- with two indexes each, which were nearly half of what an event cost. Names are "parameter=value".
CREATE TABLE found_by (
  reference ${text}              NOT NULL PRIMARY KEY,
  -- Names that few resources share: references, codes, identifiers.
  looked_up TEXT[]   COLLATE "C" NOT NULL,
  -- Names that many share, which are looked at once a resource is found otherwise.
  looked_at TEXT[]   COLLATE "C" NOT NULL,
  -- Both with their systems, "parameter=system|value", in their order; empty for those without one.
  tokens    TEXT[]   COLLATE "C" NOT NULL,
  -- Parameters of stretches of time, and their bounds as they were in "search_time".
  times     TEXT[]   COLLATE "C" NOT NULL,
  lows      BIGINT[]             NOT NULL,
  highs     BIGINT[]             NOT NULL,
  -- The smallest and the largest of these bounds, but for those of "recorded", since what is recorded
  -- may be years old; without any the first is above the last.
  first     BIGINT               NOT NULL,
  last      BIGINT               NOT NULL
);

INSERT INTO found_by
  WITH name AS (
    SELECT reference, parameter || '=' || value AS name,
           CASE system WHEN '' THEN '' ELSE parameter || '=' || system || '|' || value END AS token,
           parameter IN ('status', 'category', 'class', 'type', 'name') AS shared
      FROM (SELECT reference, parameter, system, value FROM search_code
            UNION ALL
            SELECT reference, 'identifier', system, value FROM resource_identifier) AS code),
  named AS (
    SELECT reference,
           array_agg(name ORDER BY name, token) FILTER (WHERE NOT shared) AS looked_up,
           array_agg(name ORDER BY name, token) FILTER (WHERE shared) AS looked_at,
           array_agg(token ORDER BY shared, name, token) AS tokens
      FROM name GROUP BY reference),
  timed AS (
    SELECT reference,
           array_agg(parameter ORDER BY parameter, low, high) AS times,
           array_agg(low ORDER BY parameter, low, high) AS lows,
           array_agg(high ORDER BY parameter, low, high) AS highs,
           min(least(low, high)) FILTER (WHERE parameter <> 'recorded') AS first,
           max(greatest(low, high)) FILTER (WHERE parameter <> 'recorded') AS last
      FROM search_time GROUP BY reference)
  SELECT reference, coalesce(looked_up, '{}'), coalesce(looked_at, '{}'), coalesce(tokens, '{}'),
         coalesce(times, '{}'), coalesce(lows, '{}'), coalesce(highs, '{}'),
         coalesce(first, 9223372036854775807), coalesce(last, -9223372036854775808)
    FROM named FULL JOIN timed USING (reference);

DROP TABLE search_code, search_time, resource_identifier;

-- New names are held back and taken in together; the least that PostgreSQL lets be held back, since
-- whoever exceeds it takes them in, and no transaction shall wait long for that.
CREATE INDEX found_by_looked_up ON found_by USING gin (looked_up) WITH (gin_pending_list_limit = 64);
-- A few numbers for each megabyte of the table: most resources are written soon after their times.
CREATE INDEX found_by_times ON found_by USING brin (first, last);

-- The same as the tables had.
CREATE VIEW search_code AS
  SELECT f.reference, split_part(n.name, '=', 1) AS parameter,
         CASE n.token WHEN '' THEN ''
           ELSE substr(n.token, strpos(n.name, '=') + 1, length(n.token) - length(n.name) - 1)
         END AS system,
         substr(n.name, strpos(n.name, '=') + 1) AS value
    FROM found_by f, unnest(f.looked_up || f.looked_at, f.tokens) AS n (name, token);
CREATE VIEW resource_identifier AS
  SELECT reference, system, value FROM search_code WHERE parameter = 'identifier';
CREATE VIEW search_time AS
  SELECT f.reference, t.parameter, t.low, t.high, f.first, f.last
    FROM found_by f, unnest(f.times, f.lows, f.highs) AS t (parameter, low, high);
