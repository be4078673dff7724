-- Whose an export is: issuer and client, or nothing for those that were ordered when nobody was asked.
ALTER TABLE export_job ADD COLUMN client TEXT NOT NULL DEFAULT '';
