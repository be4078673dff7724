-- Nothing is written any more with a time of last update at or before "until": what stood then stays.
CREATE TABLE settled (
  id    INTEGER PRIMARY KEY,
  until BIGINT NOT NULL
);
INSERT INTO settled (id, until) VALUES (1, -62135596800000);

-- Exports that were ordered. "owner" is the folder with the files: several services may share a
-- database, and each answers for its own. The open ends of since and until are the extremes.
CREATE TABLE export_job (
  id               ${text}  NOT NULL,
  owner            ${text}  NOT NULL,
  scope            ${text}  NOT NULL,
  group_id         ${text}  NOT NULL,
  types            TEXT     NOT NULL,
  type_filters     TEXT     NOT NULL,
  patients         TEXT     NOT NULL,
  since_at         BIGINT   NOT NULL,
  until_at         BIGINT   NOT NULL,
  separate_status  SMALLINT NOT NULL,
  base             TEXT     NOT NULL,
  url              TEXT     NOT NULL,
  remarks          TEXT     NOT NULL,
  transaction_time BIGINT   NOT NULL,
  state            ${text}  NOT NULL,
  expires_at       BIGINT   NOT NULL,
  PRIMARY KEY (owner, id)
) ${clustered};

CREATE TABLE export_file (
  owner    ${text}  NOT NULL,
  job      ${text}  NOT NULL,
  position INTEGER  NOT NULL,
  kind     ${text}  NOT NULL,
  type     ${text}  NOT NULL,
  name     ${text}  NOT NULL,
  lines    BIGINT   NOT NULL,
  PRIMARY KEY (owner, job, position)
) ${clustered};
