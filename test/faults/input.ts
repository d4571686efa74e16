import type { TestPlant } from '../factories/plant.js';

/** One check as a gauge sends it; the same of a slot each time it is made. */
export type Sent = { key: string; takenAt: string } & Record<string, unknown>;
/** `first`: checks that go one by one by a person's session; `second`: one by one by a gauge's token; `batches`: by the token, many at once. */
export type Slice = { first: Sent[]; second: Sent[]; batches: Sent[][] };

/** Enough subgroups for limits, for each of two heads too. */
export const BASELINE = 48;
export const SINGLES = 30;
export const BATCHES = 3;
export const IN_BATCH = 20;

const MINUTES = 10;
/** Moves by itself and now and then jumps, so that every zone rule has something to find. */
const level = (place: number) => Math.sin(place * 7.3) + 0.6 * Math.sin(place * 1.9) + (place > BASELINE && place % 41 < 9 ? 1.3 : 0) + (place % 97 === 60 ? 4 : 0);
const round = (value: number, step: number) => Math.round(Math.round(value / step) * step * 1e6) / 1e6;

/** What is fed in one round: places `from` up of each of the three feeds, ten minutes apart from `began` on. */
export function slice(plant: TestPlant, began: number, round: number): Slice {
  if (round === 0) return { first: weld(plant, 'bodyMaker', began, 0, BASELINE), second: weld(plant, 'bodyMaker2', began, 0, BASELINE), batches: [seam(plant, began, 0, BASELINE)] };
  const from = BASELINE + (round - 1) * SINGLES;
  const seams = BASELINE + (round - 1) * BATCHES * IN_BATCH;
  return {
    first: weld(plant, 'bodyMaker', began, from, SINGLES), second: weld(plant, 'bodyMaker2', began, from, SINGLES),
    batches: Array.from({ length: BATCHES }, (_, batch) => seam(plant, began, seams + batch * IN_BATCH, IN_BATCH)),
  };
}

function weld(plant: TestPlant, machine: 'bodyMaker' | 'bodyMaker2', began: number, from: number, count: number): Sent[] {
  return Array.from({ length: count }, (_, offset) => {
    const place = from + offset;
    const shift = machine === 'bodyMaker' ? 0 : 13;
    const values = (centre: number, sigma: number, step: number) => Array.from({ length: 15 }, (_reading, index) => round(centre + sigma * (level(place + shift) + 0.8 * Math.sin(index * 2.7 + place)), step));
    return {
      key: `faults-${machine}-${place}`, machineId: plant.machines[machine], productId: plant.productId, takenAt: new Date(began + place * MINUTES * 60_000).toISOString(),
      cans: Array.from({ length: 5 }, (_can, index) => ({ number: index + 1, laneId: plant.laneIds.A })), positions: ['front', 'middle', 'back'],
      characteristics: [{ code: 'weld-overlap', readings: values(0.42, 0.012, 0.01) }, { code: 'weld-thickness', readings: values(0.25, 0.004, 0.001) }],
    };
  });
}

function seam(plant: TestPlant, began: number, from: number, count: number): Sent[] {
  return Array.from({ length: count }, (_, offset) => {
    const place = from + offset;
    const values = (centre: number, sigma: number, turn: number) => [0, 1, 2].map((position) => round(centre + sigma * (level(place + turn) + 0.3 * Math.sin(position * 1.7 + place)), 0.01));
    return {
      key: `faults-seamer-${place}`, machineId: plant.machines.seamer, productId: plant.productId, takenAt: new Date(began + place * MINUTES * 60_000).toISOString(),
      cans: [{ number: 1, unitId: plant.headIds[place % 2] }], positions: ['60°', '180°', '300°'],
      characteristics: [['body-hook', 1.75, 0.03], ['cover-hook', 1.65, 0.03], ['seam-length', 2.6, 0.02], ['seam-thickness', 1.0, 0.01], ['countersink', 2.7, 0.02]].map(([code, centre, sigma], turn) => ({ code, readings: values(Number(centre), Number(sigma), turn * 5) })),
    };
  });
}
