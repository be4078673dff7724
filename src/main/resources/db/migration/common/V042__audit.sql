-- Who did what, or was refused it: rows are added and read, never changed. What is not known is empty.
CREATE TABLE audit (
  number      ${sequence},
  at          BIGINT   NOT NULL,
  kind        ${text}  NOT NULL,
  client      ${text}  NOT NULL,
  person      ${text}  NOT NULL,
  roles       ${text}  NOT NULL,
  address     ${text}  NOT NULL,
  interaction ${text}  NOT NULL,
  place       ${text}  NOT NULL,
  entity      ${text}  NOT NULL,
  patient     ${text}  NOT NULL,
  query       ${text}  NOT NULL,
  status      INTEGER  NOT NULL,
  reason      ${text}  NOT NULL,
  outcome     ${text}  NOT NULL
);
CREATE INDEX audit_at ON audit (at, number);
CREATE INDEX audit_patient ON audit (patient, number);
CREATE INDEX audit_entity ON audit (entity, number);
