-- How far another FHIR server has been told of the record. The rows are made by whoever sends, from
-- "resource.change"; recording a change writes nothing here.

-- A resource waits while "version" is above "sent_version". "change" and "since" are those of its
-- first change that waits. "lane" is the patient; empty for the wards.
CREATE TABLE publication (
  reference     ${text}  NOT NULL,
  lane          ${text}  NOT NULL,
  change        BIGINT   NOT NULL,
  since         BIGINT   NOT NULL,
  version       INTEGER  NOT NULL,
  sent_version  INTEGER  NOT NULL,
  their_id      TEXT     NOT NULL,
  their_version TEXT     NOT NULL,
  PRIMARY KEY (reference)
) ${clustered};
CREATE INDEX publication_waiting ON publication (change) WHERE version > sent_version;
CREATE INDEX publication_lane ON publication (lane, change) WHERE version > sent_version;

-- Lanes of which nothing is sent now; "*" stands for all of them.
CREATE TABLE publication_hold (
  lane     ${text}  NOT NULL,
  parked   SMALLINT NOT NULL,
  attempts INTEGER  NOT NULL,
  next_try BIGINT   NOT NULL,
  resource TEXT     NOT NULL,
  reason   TEXT     NOT NULL,
  since    BIGINT   NOT NULL,
  PRIMARY KEY (lane)
) ${clustered};

-- How far the changes have been read, who sends until when, and to where.
CREATE TABLE publication_feed (
  id     INTEGER PRIMARY KEY,
  change BIGINT  NOT NULL,
  owner  TEXT    NOT NULL,
  until  BIGINT  NOT NULL,
  target TEXT    NOT NULL
);
INSERT INTO publication_feed (id, change, owner, until, target) VALUES (1, 0, '', 0, '');
