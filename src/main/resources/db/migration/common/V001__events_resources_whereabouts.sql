-- Times are epoch milliseconds in UTC; the largest BIGINT stands for "has not ended".
-- Lists of texts are kept one a line, each line ended by a line feed, "\" and line feed escaped.
-- The placeholders name what the two databases spell differently:
--   text       text compared by code point
--   sequence   an integer primary key that the database counts up
--   clustered  keeps the rows in the order of their primary key, where the database can

-- Every version of every event. "newest" marks the highest version of an event that is known.
CREATE TABLE event (
  source      ${text}  NOT NULL,
  event_id    ${text}  NOT NULL,
  version     INTEGER  NOT NULL,
  newest      SMALLINT NOT NULL,
  withdrawn   SMALLINT NOT NULL,
  patient_id  ${text}  NOT NULL,
  canonical   TEXT     NOT NULL,
  received_at BIGINT   NOT NULL,
  resources   TEXT     NOT NULL,
  PRIMARY KEY (source, event_id, version)
);
CREATE INDEX event_current ON event (patient_id) WHERE newest = 1 AND withdrawn = 0;

-- Every version of every resource. "reference" is type/id: the order of references within a type
-- is the order of ids. "change" numbers the writes, for whoever wants to follow them.
CREATE TABLE resource (
  change       ${sequence},
  reference    ${text}  NOT NULL,
  version      INTEGER  NOT NULL,
  newest       SMALLINT NOT NULL,
  last_updated BIGINT   NOT NULL,
  patient_id   ${text}  NOT NULL,
  identifiers  TEXT     NOT NULL,
  json         TEXT     NOT NULL
);
CREATE UNIQUE INDEX resource_version ON resource (reference, version);
CREATE INDEX resource_of_patient ON resource (patient_id, reference) WHERE newest = 1;

-- The identifiers of the newest versions.
CREATE TABLE resource_identifier (
  reference ${text} NOT NULL,
  system    ${text} NOT NULL,
  value     ${text} NOT NULL,
  PRIMARY KEY (reference, system, value)
) ${clustered};
CREATE INDEX resource_identifier_value ON resource_identifier (value, system);

-- Who was in which ward when; an empty span is a movement that changed nothing.
CREATE TABLE ward_span (
  patient_id ${text}  NOT NULL,
  position   INTEGER  NOT NULL,
  ward       ${text}  NOT NULL,
  inpatient  SMALLINT NOT NULL,
  start_at   BIGINT   NOT NULL,
  end_at     BIGINT   NOT NULL,
  PRIMARY KEY (patient_id, position)
) ${clustered};
CREATE INDEX ward_span_of_ward ON ward_span (ward, end_at);
CREATE INDEX ward_span_end ON ward_span (end_at);
CREATE INDEX ward_span_inpatient ON ward_span (ward) WHERE inpatient = 1;

CREATE TABLE catheter_span (
  patient_id ${text}  NOT NULL,
  position   INTEGER  NOT NULL,
  start_at   BIGINT   NOT NULL,
  end_at     BIGINT   NOT NULL,
  PRIMARY KEY (patient_id, position)
) ${clustered};
CREATE INDEX catheter_span_end ON catheter_span (end_at);

-- One row, written to find out whether a write would be taken.
CREATE TABLE heartbeat (
  id    INTEGER PRIMARY KEY,
  beats BIGINT NOT NULL
);
INSERT INTO heartbeat (id, beats) VALUES (1, 0);
