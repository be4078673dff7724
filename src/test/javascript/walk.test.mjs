// Walks through everything that the CapabilityStatement of a running service lists, with a FHIR client
// that others wrote. Whatever the statement lists and this file has no step for fails.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { before, test } from 'node:test';
import { Client } from 'fhir-kit-client';

const base = `${process.env.INDWELL_URL}/fhir`;
const folder = process.env.INDWELL_PROJECT;
const client = new Client({ baseUrl: base });
const statement = await client.capabilityStatement();
const rest = statement.rest[0];

const url = (end) => `https://indwell.example/fhir/StructureDefinition/${end}`;
const httpStatus = (answer) => Client.httpFor(answer).response.status;
const header = (answer, name) => Client.httpFor(answer).response.headers.get(name);
const refusal = (status) => (error) => {
  assert.equal(error.response.status, status);
  assert.equal(error.response.data.resourceType, 'OperationOutcome');
  return true;
};
const withHeaders = (headers) => ({ headers });
const json = (path) => JSON.parse(readFileSync(`${folder}/${path}`, 'utf8'));

async function postEvents(path) {
  const answer = await fetch(`${process.env.INDWELL_URL}/events`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: readFileSync(`${folder}/${path}`),
  });
  const results = await answer.json();
  assert.deepEqual([...new Set(results.map((one) => one.outcome))].filter((one) => one === 'failed'), []);
}

/** All resources of a type, page by page. */
async function all(type, searchParams = {}) {
  const found = [];
  let page = await client.search({ resourceType: type, searchParams: { _count: 7, ...searchParams } });
  while (page) {
    found.push(...(page.entry ?? []).map((entry) => entry.resource));
    page = page.link.some((link) => link.relation === 'next') ? await client.nextPage({ bundle: page }) : null;
  }
  return found;
}

const described = {
  resourceType: 'Location',
  id: 'J-WARD',
  meta: { profile: [url('catheter-ward')] },
  identifier: [{ system: 'https://indwell.example/fhir/ward', value: 'J-WARD' }],
  status: 'active',
  name: 'The ward of this walk',
  mode: 'instance',
  type: [
    {
      coding: [
        { system: 'https://www.cdc.gov/nhsn/cdaportal/terminology/codesystem/hsloc.html', code: '1060-3' },
      ],
    },
  ],
  physicalType: {
    coding: [{ system: 'http://terminology.hl7.org/CodeSystem/location-physical-type', code: 'wa' }],
  },
};

const known = {};

before(async () => {
  await postEvents('examples/01-removed-and-replaced/0-events.json');
  await postEvents('examples/02-transfer-exchange-overdue/0-events.json');
  await postEvents('examples/03-corrected-out-of-order/0-events.json');
  await postEvents('src/test/javascript/events.json');
  await client.transaction({ body: transaction() });
  await client.update({ resourceType: 'Location', id: described.id, body: described });
  for (const { type } of rest.resource.filter((one) => has(one, 'search-type'))) {
    known[type] = await all(type);
    assert.ok(known[type].length > 0, `there is no ${type} to walk with`);
  }
});

const has = (listed, code) => (listed.interaction ?? []).some((one) => one.code === code);
const transaction = () => json('docs/api/transaction-insertion.json');

// ---- what a search asks for, taken from a resource that has it --------------------------------

const token = (coding) => (coding?.code ? `${coding.system ?? ''}|${coding.code}` : undefined);
const concept = (one) => token([one].flat()[0]?.coding?.[0]);
const reference = (one) => [one].flat()[0]?.reference;
const anyDate = (present) => (present ? 'ge2000-01-01' : undefined);

const asks = {
  _id: (r) => r.id,
  _lastUpdated: (r) => anyDate(r.meta.lastUpdated),
  identifier: (r) => (r.identifier ? `${r.identifier[0].system}|${r.identifier[0].value}` : undefined),
  patient: (r) =>
    reference(
      r.patient ??
        r.subject ??
        (r.target ?? r.entity?.map((one) => one.what ?? {}))?.filter((one) => one.reference?.startsWith('Patient/')),
    ),
  subject: (r) => reference(r.subject),
  device: (r) => reference(r.device),
  status: (r) => r.status,
  type: (r) => concept(r.type) ?? token(r.type),
  subtype: (r) => token(r.subtype?.[0]),
  action: (r) => r.action,
  outcome: (r) => r.outcome,
  address: (r) => r.agent[0].network?.address,
  entity: (r) => r.entity?.[0]?.what?.reference,
  code: (r) => concept(r.code),
  category: (r) => concept(r.category),
  'reason-code': (r) => concept(r.reasonCode),
  class: (r) => token(r.class),
  name: (r) => r.name,
  date: (r) => anyDate(r.recorded ?? r.period ?? r.effectiveDateTime ?? r.effectivePeriod ?? r.performedDateTime ?? r.performedPeriod),
  period: (r) => anyDate(r.timingPeriod),
  recorded: (r) => anyDate(r.recorded),
  when: (r) => anyDate(r.occurredDateTime ?? r.occurredPeriod),
  collected: (r) => anyDate(r.collection),
  encounter: (r) => reference(r.encounter),
  location: (r) => reference(r.location?.[0]?.location ?? r.location),
  'location-period': (r) => anyDate(r.location?.[0]?.period),
  focus: (r) => reference(r.focus),
  'part-of': (r) => reference(r.partOf),
  'derived-from': (r) => reference(r.derivedFrom),
  target: (r) => reference(r.target),
  member: (r) => reference(r.member?.[0]?.entity),
  'focal-device': (r) => reference(r.focalDevice?.[0]?.manipulated),
  'focus-device': (r) =>
    r.extension?.find((one) => one.url === 'http://hl7.org/fhir/StructureDefinition/flag-detail')?.valueReference
      ?.reference,
};

async function searchesBy(type, name) {
  if (type === 'Flag' && name === 'identifier') {
    // A Flag is worked out and comes from no one event: none has an identifier.
    assert.equal((await client.search({ resourceType: type, searchParams: { identifier: 'a|b' } })).total, 0);
    return;
  }
  if (type === 'AuditEvent' && name === 'altid') {
    // Without an issuer nobody has a name.
    assert.equal((await client.search({ resourceType: type, searchParams: { altid: 'nobody' } })).entry, undefined);
    return;
  }
  assert.ok(asks[name], `the statement lists the parameter ${name}, which this walk does not know`);
  const shown = known[type].find((one) => asks[name](one) !== undefined);
  assert.ok(shown, `no ${type} has what ${name} looks at`);
  const searchParams = { [name]: asks[name](shown), _count: 200 };
  const found = await client.search({ resourceType: type, searchParams });
  assert.ok(
    found.entry.some((entry) => entry.resource.id === shown.id),
    `${type}?${name}=${searchParams[name]} does not find ${shown.id}`,
  );
  const posted = await client.search({ resourceType: type, searchParams, options: { postSearch: true } });
  assert.equal(posted.total, found.total);
}

// ---- a step for each interaction ---------------------------------------------------------------

const run = Date.now();
let made = 0;

/** A body weight that nobody has sent yet. */
function weight() {
  made += 1;
  const sample = known.Observation.find(
    (one) => one.status === 'final' && one.code.coding.some((coding) => coding.code === '29463-7'),
  );
  const weight = structuredClone(sample);
  delete weight.id;
  delete weight.meta;
  weight.identifier = [
    { system: 'https://indwell.example/fhir/event', value: `javascript:weight-${run}-${made}` },
  ];
  weight.valueQuantity.value = 60 + made;
  return weight;
}

/** One of a type that can be sent, as the store has it. */
const sendable = (type) => known[type].find((one) => one.status !== 'entered-in-error');

const onType = {
  async read({ type }) {
    const one = known[type][0];
    const read = await client.read({ resourceType: type, id: one.id });
    assert.equal(read.id, one.id);
    await assert.rejects(client.read({ resourceType: type, id: 'nobody-has-this-id' }), refusal(404));
  },
  async vread({ type }) {
    const one = known[type][0];
    const read = await client.vread({ resourceType: type, id: one.id, version: one.meta.versionId });
    assert.equal(read.meta.versionId, one.meta.versionId);
    await assert.rejects(client.vread({ resourceType: type, id: one.id, version: '4711' }), refusal(404));
  },
  async 'search-type'({ type }) {
    const ids = (await all(type)).map((one) => one.id);
    assert.equal(new Set(ids).size, ids.length, 'no page repeats a resource');
    const counted = await client.search({ resourceType: type, searchParams: { _summary: 'count' } });
    if (type === 'AuditEvent') {
      assert.ok(counted.total >= ids.length, 'this walk itself leaves rows behind it');
    } else {
      assert.equal(counted.total, ids.length);
    }
    await assert.rejects(client.search({ resourceType: type, searchParams: { whiskers: 'long' } }), refusal(400));
  },
  async 'history-instance'({ type }) {
    const history = await client.resourceHistory({ resourceType: type, id: known[type][0].id });
    assert.equal(history.type, 'history');
    assert.equal(history.entry[0].resource.id, known[type][0].id);
  },
  async 'history-type'({ type }) {
    const history = await client.typeHistory({ resourceType: type });
    assert.ok(history.total >= known[type].length);
    assert.equal(history.entry[0].resource.resourceType, type);
  },
  async create({ type }) {
    if (type === 'Observation') {
      const body = weight();
      const condition = `identifier=${body.identifier[0].system}|${body.identifier[0].value}`;
      const first = await client.create({ resourceType: type, body, options: withHeaders({ 'If-None-Exist': condition }) });
      assert.equal(httpStatus(first), 201);
      const again = await client.create({ resourceType: type, body, options: withHeaders({ 'If-None-Exist': condition }) });
      assert.equal(httpStatus(again), 200);
      return;
    }
    const body = structuredClone(sendable(type));
    delete body.id;
    const known = await client.create({ resourceType: type, body });
    assert.equal(httpStatus(known), 200, 'what is on record already is answered 200');
  },
  async update({ type }) {
    if (type === 'Observation') {
      const body = weight();
      const created = await client.create({ resourceType: type, body });
      const id = header(created, 'Location').split('/').at(-3);
      const change = { ...body, id, valueQuantity: { ...body.valueQuantity, value: 99.5 } };
      const changed = await client.update({ resourceType: type, id, body: change, options: withHeaders({ 'If-Match': 'W/"1"' }) });
      assert.equal(httpStatus(changed), 200);
      await assert.rejects(
        client.update({ resourceType: type, id, body: change, options: withHeaders({ 'If-Match': 'W/"1"' }) }),
        refusal(412),
      );
      assert.equal((await client.read({ resourceType: type, id })).valueQuantity.value, 99.5);
      return;
    }
    if (type === 'Location') {
      const same = await client.update({ resourceType: type, id: described.id, body: described });
      assert.equal(httpStatus(same), 200);
      return;
    }
    const body = sendable(type);
    const same = await client.update({ resourceType: type, id: body.id, body });
    assert.equal(httpStatus(same), 200);
  },
  async delete({ type }) {
    if (type !== 'Observation') {
      await client.delete({ resourceType: type, id: 'nobody-has-this-id' });
      return;
    }
    const created = await client.create({ resourceType: type, body: weight() });
    const id = header(created, 'Location').split('/').at(-3);
    await client.delete({ resourceType: type, id });
    assert.equal((await client.read({ resourceType: type, id })).status, 'entered-in-error');
  },
};

async function notModified({ type }) {
  const one = await client.read({ resourceType: type, id: known[type][0].id });
  const etag = header(one, 'ETag');
  const answer = await fetch(`${base}/${type}/${one.id}`, { headers: { 'If-None-Match': etag } });
  assert.equal(answer.status, 304);
}

const onSystem = {
  async transaction() {
    const again = await client.transaction({ body: transaction() });
    assert.equal(again.type, 'transaction-response');
    assert.ok(again.entry.every((entry) => entry.response.status.startsWith('200')), 'sent twice, it is on record once');
  },
  async batch() {
    const device = known.Device[0].id;
    const answer = await client.batch({
      body: {
        resourceType: 'Bundle',
        type: 'batch',
        entry: [
          { request: { method: 'GET', url: `Device/${device}` } },
          { request: { method: 'GET', url: 'Device/nobody-has-this-id' } },
          { resource: weight(), request: { method: 'POST', url: 'Observation' } },
        ],
      },
    });
    assert.deepEqual(
      answer.entry.map((entry) => entry.response.status.slice(0, 3)),
      ['200', '404', '201'],
    );
  },
  async 'history-system'() {
    const first = await client.systemHistory({ options: {} });
    assert.equal(first.type, 'history');
    assert.ok(first.total > 100);
    const next = await client.nextPage({ bundle: first });
    const seen = new Set(first.entry.map((entry) => entry.fullUrl + entry.resource.meta.versionId));
    assert.ok(next.entry.every((entry) => !seen.has(entry.fullUrl + entry.resource.meta.versionId)));
  },
};

// ---- operations ---------------------------------------------------------------------------------

const month = { start: '2024-10-01', end: '2024-10-31' };
const moment = { asOf: '2024-10-20T12:00:00Z' };
const parameters = (values) => ({
  resourceType: 'Parameters',
  parameter: Object.entries(values).map(([name, value]) => ({
    name,
    [name === 'asOf' ? 'valueDateTime' : 'valueDate']: value,
  })),
});

async function both(call, input) {
  const got = await client.operation({ ...call, method: 'GET', input });
  const posted = await client.operation({ ...call, method: 'POST', input: parameters(input) });
  const bare = (answer) => JSON.stringify(answer.entry ?? answer.parameter).replace(/"lastUpdated":"[^"]*"/g, '');
  assert.ok(bare(posted) === bare(got), 'GET and POST answer the same');
  return got;
}

async function exported(path) {
  const kickOff = await fetch(`${base}/${path}`, {
    headers: { Accept: 'application/fhir+json', Prefer: 'respond-async' },
  });
  assert.equal(kickOff.status, 202);
  const status = kickOff.headers.get('Content-Location');
  for (let asked = 0; asked < 240; asked++) {
    const answer = await fetch(status);
    if (answer.status === 200) {
      return answer.json();
    }
    assert.ok([202, 429].includes(answer.status), `status ${answer.status}`);
    await new Promise((later) => setTimeout(later, 600));
  }
  return assert.fail('the export does not end');
}

async function linesOf(manifest) {
  let lines = 0;
  for (const file of manifest.output) {
    const text = await (await fetch(file.url)).text();
    const resources = text.trimEnd().split('\n').map((line) => JSON.parse(line));
    assert.ok(resources.every((one) => one.resourceType === file.type));
    lines += resources.length;
  }
  return lines;
}

const operations = {
  async 'device-days'(resourceType) {
    const bundle = await both({ name: 'device-days', resourceType, id: resourceType && described.id }, month);
    const reports = bundle.entry.map((entry) => entry.resource).filter((one) => one.resourceType === 'MeasureReport');
    assert.ok(reports.length > 0);
    assert.ok(reports.some((one) => one.group[0].population.some((population) => population.count > 0)));
  },
  async overdue() {
    const bundle = await both({ name: 'overdue' }, moment);
    assert.ok(bundle.entry.some((entry) => entry.resource.resourceType === 'Flag'));
  },
  async 'unit-report'(resourceType) {
    const months = { start: '2024-10', end: '2024-11' };
    const call = { name: 'unit-report', resourceType, id: resourceType && described.id };
    const report = await both(call, months);
    assert.ok(report.parameter.filter((one) => one.name === 'month').length >= 2);
  },
  async 'catheter-days'(resourceType) {
    const id = known.Encounter.find((one) => stayedIn(one, described.id)).subject.reference.split('/')[1];
    const days = await both({ name: 'catheter-days', resourceType, id }, moment);
    assert.ok(days.parameter.some((part) => part.name === 'day'));
  },
  async validate(resourceType) {
    const body = (known[resourceType] ?? [])[0] ?? { resourceType };
    const answer = await client.operation({ name: 'validate', resourceType, method: 'POST', input: body });
    assert.equal(answer.resourceType, 'OperationOutcome');
    const faults = answer.issue.filter((one) => ['error', 'fatal'].includes(one.severity));
    assert.equal(faults.length > 0, !known[resourceType], 'what is on record is valid, and an empty one is not');
  },
  async export(resourceType) {
    const path = { undefined: '$export', Patient: 'Patient/$export', Group: `Group/${described.id}/$export` }[resourceType];
    const manifest = await exported(path);
    assert.equal(manifest.error.length, 0);
    assert.ok((await linesOf(manifest)) > 20);
  },
};

const stayedIn = (encounter, ward) =>
  encounter.location?.some((one) => one.location.reference === `Location/${ward}`) ?? false;

// ---- the walk --------------------------------------------------------------------------------------

function step(name, table, key, argument) {
  test(name, async () => {
    assert.ok(table[key], `the statement lists ${name}, and this walk has no step for it`);
    await table[key](argument);
  });
}

for (const { code } of rest.interaction) {
  step(`system ${code}`, onSystem, code);
}
for (const { name } of rest.operation) {
  step(`system $${name}`, operations, name, undefined);
}
for (const listed of rest.resource) {
  for (const { code } of listed.interaction ?? []) {
    step(`${listed.type} ${code}`, onType, code, listed);
  }
  if (listed.conditionalRead === 'full-support') {
    test(`${listed.type} conditional read`, () => notModified(listed));
  }
  for (const { name } of listed.searchParam ?? []) {
    test(`${listed.type}?${name}`, () => searchesBy(listed.type, name));
  }
  for (const include of [...(listed.searchInclude ?? []), ...(listed.searchRevInclude ?? [])]) {
    test(`${listed.type} with ${include}`, async () => {
      const key = include.startsWith(`${listed.type}:`) ? '_include' : '_revinclude';
      const found = await client.search({ resourceType: listed.type, searchParams: { [key]: include, _count: 200 } });
      const toItself = include.startsWith('Observation:') && listed.type === 'Observation';
      assert.ok(toItself || found.entry.some((entry) => entry.search.mode === 'include'), 'something is included');
    });
  }
  for (const { name } of listed.operation ?? []) {
    step(`${listed.type} $${name}`, operations, name, listed.type);
  }
}
