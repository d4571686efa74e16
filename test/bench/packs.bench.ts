import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { freezePack } from '../../apps/api/src/flows/packs/freeze-pack.js';
import { storePack } from '../../apps/api/src/flows/packs/make-pack.js';
import { canonicalJson } from '../../apps/api/src/packs/canonical.js';
import { packPdf } from '../../apps/api/src/packs/pdf/pack-pdf.js';
import { startEmbeddedPostgres } from '../../apps/api/src/platform/embedded-postgres.js';
import { applyMigrations } from '../../apps/api/src/platform/migrate.js';
import { Work } from '../../apps/api/src/platform/work.js';

// `npm run bench:packs`: 40 characteristics over twelve months, a check of five cans every two hours. Aim: frozen and stored within 60 s.
const [CHARACTERISTICS, EVERY_HOURS, CANS] = [40, 2, 5];
const YEAR = { from: '2025-01-01T00:00:00Z', to: '2026-01-01T00:00:00Z' };

async function fill(work: Work): Promise<{ plantId: number; productId: number; userId: number }> {
  const db = work.client;
  const { id: plantId } = await db.plant.create({ data: { name: 'Bench plant', timeZone: 'UTC' } });
  const line = await db.line.create({ data: { plantId, code: 'L1', name: 'Line', position: 1 } });
  const step = await db.step.create({ data: { plantId, lineId: line.id, kind: 'seamer', position: 1 } });
  const machine = await db.machine.create({ data: { plantId, stepId: step.id, code: 'SE1', name: 'Seamer' } });
  const product = await db.product.create({ data: { plantId, code: 'P', name: 'Can', customer: 'Bench customer', diameter: 65.3, height: 104, bodyPlate: 0.15, endPlate: 0.19, seamProfile: 'mini', overlapFactor: 1 } });
  const user = await db.user.create({ data: { plantId, login: 'bench', name: 'Bench engineer', role: 'engineer', passwordHash: 'no password fits' } });
  for (let index = 0; index < CHARACTERISTICS; index += 1) {
    const characteristic = await db.characteristic.create({ data: { plantId, code: `c${index}`, name: `Characteristic ${index}`, stepKind: 'seamer', unit: 'mm', gaugeStep: 0.001, decimals: 3, chartKind: 'xbar-r', basis: 'reading' } });
    await db.specification.create({ data: { plantId, productId: product.id, characteristicId: characteristic.id, revision: 1, lsl: 0.9, target: 1, usl: 1.1, effectiveFrom: new Date('2024-01-01'), authorId: user.id, reason: 'bench' } });
    await db.stream.create({ data: { plantId, characteristicId: characteristic.id, productId: product.id, machineId: machine.id, chartKind: 'xbar-r', basis: 'reading', rules: ['beyond-limits'] } });
  }
  await work.run(async (tx) => {
    await tx.$executeRaw`
      INSERT INTO "check" (plant_id, machine_id, product_id, taken_at, entered_by, inspector, can_numbers, can_unit_ids, can_lane_ids, positions, key, content_hash, source)
      SELECT ${plantId}, ${machine.id}, ${product.id}, at, ${user.id}, 'bench', ARRAY[1,2,3,4,5], ARRAY[0,0,0,0,0], ARRAY[0,0,0,0,0], ARRAY['point'], 'bench-' || at, 'bench', 'entry'
      FROM generate_series(${YEAR.from}::timestamptz, ${YEAR.to}::timestamptz - interval '1 second', make_interval(hours => ${EVERY_HOURS}::int)) AS at`;
    await tx.$executeRaw`
      INSERT INTO subgroup (plant_id, stream_id, taken_at, sequence, check_id, cans, readings, n, mean, range, sd, low, high)
      SELECT c.plant_id, s.id, c.taken_at, 0, c.id, ARRAY[0,1,2,3,4]::smallint[], r.readings, ${CANS}::int, 1, 0.05, 0.02, 0.95, 1.05
      FROM "check" c JOIN stream s ON s.plant_id = c.plant_id
      CROSS JOIN LATERAL (SELECT array_agg(round((1 + 0.02 * (random() + random() + random() - 1.5) + 0 * k)::numeric, 3)::float8) AS readings FROM generate_series(1, ${CANS}::int) AS k WHERE c.id + s.id > 0) r
      WHERE c.plant_id = ${plantId}`;
  }, 300_000);
  return { plantId, productId: product.id, userId: user.id };
}

async function main(): Promise<void> {
  const folder = mkdtempSync(path.join(tmpdir(), 'seamledger-packs-'));
  const postgres = await startEmbeddedPostgres(folder, { durable: true, say: () => {} });
  const work = new Work(postgres.url, 5);
  try {
    await applyMigrations(postgres.url);
    const { plantId, productId, userId } = await fill(work);
    await work.client.$executeRaw`ANALYZE`;
    const began = performance.now();
    const seconds = () => ((performance.now() - began) / 1000).toFixed(1);
    const content = await freezePack(work, plantId, { customer: 'Bench customer', title: 'bench', products: [productId], studies: [], ...YEAR }, { id: userId, name: 'Bench engineer' }, new Date());
    const frozen = seconds();
    const id = await storePack(work, { plantId, userId, name: 'Bench engineer' }, content, null);
    const stored = seconds();
    const pdf = await packPdf({ content, sha256: '0'.repeat(64), id: id ?? 0, signatures: [], language: 'en' });
    console.log(`${content.inputs.subjects.length} characteristics, ${content.inputs.subjects.reduce((sum, subject) => sum + subject.streams.reduce((part, stream) => part + stream.subgroups.length, 0), 0)} subgroups, ${(canonicalJson(content).length / 1e6).toFixed(1)} MB of JSON`);
    console.log(`frozen and computed after ${frozen} s, stored after ${stored} s (aim: 60 s), PDF of ${(pdf.length / 1e6).toFixed(1)} MB after ${seconds()} s, memory ${(process.memoryUsage().rss / 1e6).toFixed(0)} MB`);
  } finally {
    await work.close();
    await postgres.stop();
    rmSync(folder, { recursive: true });
  }
}

await main();
