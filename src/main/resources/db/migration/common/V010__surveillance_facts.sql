-- Facts that people supply for a ward and a month ("2026-03"), every version as canonical JSON.
CREATE TABLE surveillance_facts (
  ward        ${text}  NOT NULL,
  month       ${text}  NOT NULL,
  version     INTEGER  NOT NULL,
  recorded_at BIGINT   NOT NULL,
  facts       TEXT     NOT NULL,
  PRIMARY KEY (ward, month, version)
) ${clustered};
CREATE INDEX surveillance_facts_month ON surveillance_facts (month, ward);
