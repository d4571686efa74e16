import { type Role, roles } from '#contract/roles';
import type { Work } from '../../apps/api/src/platform/work.js';

export type TestPlant = {
  plantId: number; lineId: number; laneIds: { A: number; B: number };
  machines: { bodyMaker: number; bodyMaker2: number; flanger: number; seamer: number };
  headIds: [number, number];
  productId: number;
  characteristics: Record<'weld-overlap' | 'weld-thickness' | 'flange-width' | 'seam-thickness' | 'seam-length' | 'body-hook' | 'cover-hook' | 'countersink' | 'tightness' | 'seam-overlap' | 'percent-overlap' | 'free-space', number>;
  gaugeId: number;
  planId: number;
  users: Record<Role, number>;
};

/**
 * A small plant with everything that a check needs: one line (lanes A and B), two body makers, a flanger, a seamer with
 * two heads, one product (0.15 / 0.19 mm plate, k = 1), measured and derived characteristics, one gauge, one check plan
 * and a user of each role (login = role; no password fits, sessions are put in place by test/db/api.ts).
 */
export async function makePlant(work: Work): Promise<TestPlant> {
  const db = work.client;
  const plant = await db.plant.create({ data: { name: 'Test plant', timeZone: 'Europe/Lisbon' } });
  const plantId = plant.id;
  const line = await db.line.create({ data: { plantId, code: 'T1', name: 'Test line', position: 1 } });
  const lane = async (code: string, position: number) => (await db.lane.create({ data: { plantId, lineId: line.id, code, name: `half ${code}`, position } })).id;
  const laneIds = { A: await lane('A', 1), B: await lane('B', 2) };
  const step = async (kind: string, position: number) => (await db.step.create({ data: { plantId, lineId: line.id, kind, position } })).id;
  const machine = async (stepId: number, code: string, name: string) => (await db.machine.create({ data: { plantId, stepId, code, name } })).id;
  const welding = await step('body-maker', 1);
  const machines = {
    bodyMaker: await machine(welding, 'BM1', 'Body maker 1'), bodyMaker2: await machine(welding, 'BM2', 'Body maker 2'),
    flanger: await machine(await step('flanger', 2), 'FL1', 'Flanger 1'), seamer: await machine(await step('seamer', 3), 'SE1', 'Seamer 1'),
  };
  const head = async (position: number) => (await db.unit.create({ data: { plantId, machineId: machines.seamer, code: `H${position}`, position } })).id;
  const headIds: [number, number] = [await head(1), await head(2)];
  const product = await db.product.create({ data: { plantId, code: 'T65', name: 'Test can 65 mm', customer: 'Test customer', diameter: 65.3, height: 104, bodyPlate: 0.15, endPlate: 0.19, seamProfile: 'mini', overlapFactor: 1 } });
  const characteristic = async (code: string, name: string, stepKind: string, more: { unit?: string; gaugeStep?: number; decimals?: number; low?: number; high?: number; formula?: string; chartKind?: string; basis?: string } = {}) => (await db.characteristic.create({ data: {
    plantId, code, name, stepKind, unit: more.unit ?? 'mm', gaugeStep: more.gaugeStep ?? 0.01, decimals: more.decimals ?? 2, plausibleLow: more.low, plausibleHigh: more.high,
    formula: more.formula, chartKind: more.chartKind ?? 'i-mr', basis: more.basis ?? 'can',
  } })).id;
  const characteristics = {
    'weld-overlap': await characteristic('weld-overlap', 'Weld overlap', 'body-maker', { low: 0.1, high: 1, chartKind: 'xbar-r' }),
    'weld-thickness': await characteristic('weld-thickness', 'Weld thickness', 'body-maker', { gaugeStep: 0.001, decimals: 3, low: 0.1, high: 0.5, chartKind: 'xbar-s' }),
    'flange-width': await characteristic('flange-width', 'Flange width', 'flanger', { low: 1, high: 4, chartKind: 'xbar-r', basis: 'reading' }),
    'seam-thickness': await characteristic('seam-thickness', 'Seam thickness', 'seamer', { low: 0.5, high: 2 }),
    'seam-length': await characteristic('seam-length', 'Seam length', 'seamer', { low: 1.5, high: 4 }),
    'body-hook': await characteristic('body-hook', 'Body hook', 'seamer', { low: 0.8, high: 3 }),
    'cover-hook': await characteristic('cover-hook', 'Cover hook', 'seamer', { low: 0.8, high: 3 }),
    countersink: await characteristic('countersink', 'Countersink', 'seamer', { low: 1.5, high: 5 }),
    tightness: await characteristic('tightness', 'Tightness', 'seamer', { unit: '%', gaugeStep: 5, decimals: 0, low: 0, high: 100 }),
    'seam-overlap': await characteristic('seam-overlap', 'Seam overlap', 'seamer', { formula: 'seam.overlap', decimals: 3 }),
    'percent-overlap': await characteristic('percent-overlap', 'Per cent overlap', 'seamer', { unit: '%', formula: 'seam.percent-overlap', decimals: 1 }),
    'free-space': await characteristic('free-space', 'Free space', 'seamer', { formula: 'seam.free-space', decimals: 3 }),
  };
  const users = {} as Record<Role, number>;
  for (const role of roles) users[role] = (await db.user.create({ data: { plantId, login: role, name: `Test ${role}`, role, passwordHash: 'no password fits' } })).id;
  await db.auditorScope.create({ data: { plantId, userId: users.auditor, customer: 'Test customer', fromAt: new Date('2000-01-01T00:00:00Z'), untilAt: new Date('2100-01-01T00:00:00Z'), expiresAt: new Date('2100-01-01T00:00:00Z') } });
  const gauge = await db.gauge.create({ data: { plantId, code: 'MIC-1', name: 'Seam micrometer 1', resolution: 0.01, unit: 'mm' } });
  const specification = (code: keyof typeof characteristics, lsl: number | null, target: number | null, usl: number | null) => db.specification.create({ data: { plantId, productId: product.id, characteristicId: characteristics[code], revision: 1, lsl, target, usl, effectiveFrom: new Date('2025-01-01T00:00:00Z'), authorId: users.engineer, reason: 'test' } });
  await specification('weld-overlap', 0.33, 0.42, 0.51);
  await specification('body-hook', 1.6, 1.75, 1.9);
  await specification('cover-hook', 1.45, 1.65, null);
  const plan = await db.checkPlan.create({ data: { plantId, machineId: machines.bodyMaker, productId: product.id, name: 'Weld', cans: 5, positions: ['front', 'middle', 'back'], characteristics: ['weld-overlap', 'weld-thickness'], everyMinutes: 30, intervalSource: 'common practice, no source' } });
  return { plantId, lineId: line.id, laneIds, machines, headIds, productId: product.id, characteristics, gaugeId: gauge.id, planId: plan.id, users };
}
