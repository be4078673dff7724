-- Rows that tell what a resource is found by are written anew with its resource, under the lock of
-- its version, each once. So there is no key to be looked up before each of them is added: the rows
-- of a resource are found by an index on the resource alone, which holds its name once.
ALTER TABLE resource_identifier DROP CONSTRAINT resource_identifier_pkey;
CREATE INDEX resource_identifier_reference ON resource_identifier (reference);

ALTER TABLE search_code DROP CONSTRAINT search_code_pkey;
CREATE INDEX search_code_reference ON search_code (reference);

ALTER TABLE search_time DROP CONSTRAINT search_time_pkey;
CREATE INDEX search_time_reference ON search_time (reference);
