import { readFileSync } from 'node:fs';
import { recordCheck } from '#contract/inspections';
import type { Work } from '../../apps/api/src/platform/work.js';
import { insertStudy } from '../../apps/api/src/studies/kept-studies.store.js';
import { allMethods } from '../../apps/api/src/workbench/all-methods.js';
import type { TestApi } from '../db/api.js';
import { makePlant, type TestPlant } from './plant.js';

export type PackPlant = TestPlant & { studyIds: number[]; checkIds: number[] };
const published = (name: string) => JSON.parse(readFileSync(new URL(`../published/${name}.json`, import.meta.url), 'utf8'));

/** A plant whose records are published data: 25 subgroups of 5 flow widths, 195 calibration factors, a crossed gauge study and a nested one. */
export async function makePackPlant(work: Work, api: TestApi): Promise<PackPlant> {
  const plant = await makePlant(work);
  const { plantId, characteristics, machines, productId } = plant;
  const set = (id: number, data: object) => work.client.characteristic.updateMany({ where: { plantId, id }, data });
  await set(characteristics['flange-width'], { decimals: 4, gaugeStep: 0.0001, basis: 'reading', chartKind: 'xbar-r' });
  await set(characteristics['weld-thickness'], { decimals: 6, gaugeStep: 0.000001, basis: 'reading', chartKind: 'i-mr', plausibleLow: 1, plausibleHigh: 20 });
  const specification = (characteristicId: number, lsl: number, target: number, usl: number) => work.client.specification.create({ data: { plantId, productId, characteristicId, revision: 1, lsl, target, usl, effectiveFrom: new Date('2025-01-01T00:00:00Z'), authorId: plant.users.engineer, reason: 'published example' } });
  await specification(characteristics['flange-width'], 1, 1.5, 2);
  await specification(characteristics['weld-thickness'], 9.15, 9.26, 9.37);

  const checkIds: number[] = [];
  const record = async (machineId: number, code: string, readings: number[], hour: number) => {
    const takenAt = new Date(Date.UTC(2026, 2, 2) + hour * 3_600_000).toISOString();
    const reply = await api.as('technician').call(recordCheck, { body: { key: `pack-${code}-${hour}`, machineId, productId, takenAt, cans: readings.map((_value, index) => ({ number: index + 1 })), positions: ['point'], characteristics: [{ code, readings }] } });
    if (reply.status !== 201) throw new Error(reply.text);
    checkIds.push(reply.body.checkId);
  };
  for (const [hour, readings] of (published('flow-width').subgroups as number[][]).entries()) await record(machines.flanger, 'flange-width', readings, hour);
  for (const [hour, value] of (published('heat-flow-meter').values as number[]).entries()) await record(machines.bodyMaker, 'weld-thickness', [value], hour);

  const keep = async (title: string, method: string, body: Record<string, unknown>) => {
    const found = allMethods.find(({ endpoint }) => endpoint.path === `/api/workbench/${method}`);
    if (!found) throw new Error(`there is no method ${method}`);
    return insertStudy(work.read, plantId, { title, note: '', state: {}, answers: [{ method, body, answer: found.compute(body, () => {}) }], version: 'test', authorId: plant.users.engineer });
  };
  const runs = published('oxide-thickness').readings as number[][][];
  const flat = runs.flatMap((run, at) => run.flatMap((zone, place) => zone.map((value) => ({ value, run: `run ${at + 1}`, zone: `zone ${place + 1}` }))));
  const studyIds = [
    await keep('Crossed gauge study', 'gauge-crossed', { readings: published('gauges').manual.readings, poolAbove: null }),
    await keep('Nested variance', 'variance-components', { values: flat.map(({ value }) => value), levels: [{ name: 'run', labels: flat.map(({ run }) => run) }, { name: 'zone', labels: flat.map(({ zone }) => zone) }] }),
  ];
  return { ...plant, studyIds, checkIds };
}
