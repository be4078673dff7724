-- What the newest versions of resources can be found by, beside their identifiers, their patient and
-- the time of writing. Values are made of the resources by the program, which reads them all anew
-- when "search_index" says that an older release made them (0: nobody has yet).

-- Codes (system and code), references (type/id as the value) and names (in lower case).
CREATE TABLE search_code (
  reference ${text} NOT NULL,
  parameter ${text} NOT NULL,
  system    ${text} NOT NULL,
  value     ${text} NOT NULL,
  PRIMARY KEY (reference, parameter, system, value)
) ${clustered};
CREATE INDEX search_code_value ON search_code (value, parameter);

-- Stretches of time: the first millisecond, and the one after the last. The smallest and the largest
-- BIGINT stand for an open start and an open end.
CREATE TABLE search_time (
  reference ${text} NOT NULL,
  parameter ${text} NOT NULL,
  low       BIGINT  NOT NULL,
  high      BIGINT  NOT NULL,
  PRIMARY KEY (reference, parameter, low, high)
) ${clustered};
CREATE INDEX search_time_low ON search_time (parameter, low);

CREATE TABLE search_index (
  id      INTEGER PRIMARY KEY,
  version INTEGER NOT NULL
);
INSERT INTO search_index (id, version) VALUES (1, 0);

-- For histories of a whole type and for "written since".
CREATE INDEX resource_written ON resource (last_updated, reference, version);

-- Events that were replaced or taken back, by the patient whom they named: few, and asked for with
-- every flag.
CREATE INDEX event_replaced ON event (patient_id) WHERE newest = 0;
CREATE INDEX event_withdrawn ON event (patient_id) WHERE newest = 1 AND withdrawn = 1;
