// Posts an invented history of two years and a month to a running service, for charts that have something to show.
// Usage: node seed-year.mjs http://localhost:8080
// The same run posts the same events, so that a second run changes nothing. Nothing in it is about a real person.

const base = process.argv[2] ?? 'http://localhost:8080';
const WARDS = [
  { code: 'EAST-3', beds: 7, share: 0.35, monthly: 1.1 },
  { code: 'ICU-1', beds: 4, share: 0.8, monthly: 0.9 },
];
const DAY = 86_400_000;

// A small generator with a fixed beginning (Park and Miller, 1988), so that every run draws the same.
let state = 20_240_501;
const draw = () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
const between = (low, high) => low + Math.floor(draw() * (high - low + 1));

const now = new Date();
const thisMonth = Date.UTC(now.getUTCFullYear(), now.getUTCMonth(), 1);
const monthsBack = (back) => Date.UTC(now.getUTCFullYear(), now.getUTCMonth() - back, 1);
const iso = (millis) => new Date(millis).toISOString();

const id = (kind, value) => ({ system: `https://demo.indwell.example/${kind}`, value });
const events = [];

function event(patient, name, type, at, details) {
  events.push({
    source: 'invented-years',
    eventId: `${patient}/${name}`,
    type,
    occurredAt: iso(at),
    patient: id('patient', patient),
    encounter: id('stay', `S-${patient}`),
    recorder: id('staff', 'N-900'),
    details,
  });
}

function steps() {
  const codes = ['hand-hygiene', 'perineal-cleansing', 'sterile-gloves', 'sterile-drape', 'antiseptic-preparation',
    'lubricant', 'securement-applied', 'bag-below-bladder'];
  return Object.fromEntries(codes.map((code) => [code, draw() < 0.94 ? 'done' : 'not-done']));
}

function stay(ward, bed, from, number) {
  const patient = `Y-${ward.code}-${bed}-${number}`;
  const days = between(2, 12);
  const end = Math.min(from + days * DAY + between(0, 6) * 3_600_000, thisMonth - 3_600_000);
  if (end <= from + 3_600_000) return end + DAY;
  event(patient, 'in', 'patient-admitted', from, { ward: ward.code });
  if (draw() < ward.share) catheter(patient, from + between(1, 20) * 3_600_000, end);
  event(patient, 'out', 'patient-discharged', end, {});
  return end + between(2, 30) * 3_600_000;
}

function catheter(patient, from, end) {
  const out = Math.min(from + between(0, 8) * DAY + between(2, 10) * 3_600_000, end - 600_000);
  if (out <= from) return;
  event(patient, 'cath', 'catheter-inserted', from, {
    catheterId: 'c1', route: 'urethral', sizeCh: 14, balloonLabelMl: 10, balloonFilledMl: 10,
    indication: draw() < 0.9 ? 'critical-illness-output' : 'acute-retention', steps: steps(),
  });
  for (let at = from + 11 * 3_600_000, n = 1; at < out; at += between(10, 13) * 3_600_000, n++) {
    event(patient, `check-${n}`, 'care-checked', at, { catheterId: 'c1', items: { 'closed-system': true, 'bag-below-bladder': true } });
  }
  for (let at = from + 8 * 3_600_000, n = 1; at < out; at += 8 * 3_600_000, n++) {
    event(patient, `urine-${n}`, 'urine-measured', at, { from: iso(at - 8 * 3_600_000), volumeMl: between(300, 700) });
  }
  for (let at = from + 24 * 3_600_000, n = 1; at < out; at += DAY, n++) {
    if (draw() < 0.88) {
      event(patient, `need-${n}`, 'need-reviewed', at, { catheterId: 'c1', stillNeeded: true, indication: 'critical-illness-output' });
    }
  }
  event(patient, 'cath-out', 'catheter-removed', out, { catheterId: 'c1' });
}

function facts(ward) {
  return Array.from({ length: 25 }, (_, i) => 25 - i).map((back) => {
    const start = monthsBack(back);
    const last = new Date(monthsBack(back - 1) - DAY).getUTCDate();
    // Fewer from the second year on, as if something had been changed.
    const many = ward.monthly * (back > 12 ? 0.7 : 0.3);
    const count = Math.floor(many) + (draw() < many % 1 ? 1 : 0);
    const month = iso(start).slice(0, 7);
    const dates = Array.from({ length: count }, () => `${month}-${String(between(1, last)).padStart(2, '0')}`).sort();
    return { ward: ward.code, month, confirmedCauti: count, cautiDates: dates,
      predictedCauti: Math.round(ward.monthly * 1300) / 1000, baseline: 'invented' };
  });
}

for (const ward of WARDS) {
  for (let bed = 1; bed <= ward.beds; bed++) {
    for (let from = monthsBack(25) + between(0, 4) * DAY, number = 1; from < thisMonth - 2 * DAY; number++) {
      from = stay(ward, bed, from, number);
    }
  }
}

async function post(path, type, body) {
  const answer = await fetch(base + path, { method: 'POST', headers: { 'Content-Type': type }, body });
  const text = await answer.text();
  if (!answer.ok) throw new Error(`${path}: ${answer.status} ${text.slice(0, 400)}`);
  return text;
}

events.sort((a, b) => (a.occurredAt < b.occurredAt ? -1 : 1));
const lines = (await post('/events', 'application/x-ndjson', events.map((one) => JSON.stringify(one)).join('\n'))).trim().split('\n');
const refused = lines.map((line) => JSON.parse(line)).filter((result) => !['recorded', 'duplicate'].includes(result.outcome));
if (refused.length) throw new Error(`refused: ${JSON.stringify(refused[0])}`);
await post('/surveillance', 'application/json', JSON.stringify(WARDS.flatMap(facts)));
console.log(`${events.length} events and 50 months of facts are on record.`);
