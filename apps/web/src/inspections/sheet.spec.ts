import { expect, it } from 'vitest';
import { newDraft, widened, withCell } from './entry-draft.js';
import { choices, type EntryPlant, sheetOf } from './sheet.js';
import { unitsAsked, unitsLeft, withUnits } from './sheet-units.js';

const characteristic = (code: string, formula: string | null = null, kind = 'variable') => ({ id: code.length, code, name: code, unit: 'mm', decimals: 2, kind, gaugeStep: 0.01, plausibleLow: 0.5, plausibleHigh: 4, formula });
const plan = (id: number, machineId: number, productId: number, more: Partial<EntryPlant['plans'][number]> = {}) => ({ id, name: `Plan ${id}`, machineId, productId, cans: 2, perUnit: false, perLane: false, positions: ['a', 'b'], characteristics: ['cover-hook'], ...more });
const product = (id: number) => ({ id, code: `P${id}`, name: `Can ${id}`, bodyPlate: 0.15, endPlate: 0.19, overlapFactor: 1 });
const machine = (id: number, heads: number, lanes: number) => ({ id, code: `M${id}`, name: `Machine ${id}`, line: 'Line 1', units: Array.from({ length: heads }, (_, index) => ({ id: id * 10 + index, code: `H${index + 1}` })), lanes: Array.from({ length: lanes }, (_, index) => ({ id: 90 + index, code: 'AB'[index] as string })) });
const plant: EntryPlant = {
  machines: [machine(1, 3, 2), machine(2, 0, 2), machine(3, 0, 0)], products: [product(1), product(2)],
  plans: [plan(1, 1, 1, { perUnit: true, characteristics: ['cover-hook', 'body-hook', 'seam-length', 'seam-overlap'] }), plan(2, 1, 1, { perUnit: true, perLane: true, cans: 1 }), plan(3, 1, 2), plan(4, 2, 2, { perLane: true })],
  characteristics: [characteristic('cover-hook'), characteristic('body-hook'), characteristic('seam-length'), characteristic('seam-overlap', 'seam.overlap'), characteristic('free-space', 'seam.free-space'), characteristic('dents', null, 'attribute'), characteristic('wrinkle', null, 'rating')],
  specifications: [{ productId: 1, characteristicId: 'cover-hook'.length, revision: 3, lsl: 1.5, target: null, usl: null }, { productId: 2, characteristicId: 'body-hook'.length, revision: 1, lsl: 1, target: null, usl: null }], gauges: [],
};
const view = (machineId: number | null, planId: number | null = null, productId: number | null = null) => ({ machine: machineId, plan: planId, product: productId });

it('offers machines that have a plan, and chooses by itself what has only one possibility', () => {
  expect(choices(plant, view(null)).machines.map(({ id }) => id)).toEqual([1, 2]);
  expect(choices(plant, view(2)).plan?.id).toBe(4);
  expect(choices(plant, view(1)).product).toBeUndefined();
  expect(choices(plant, view(1, 2)).plan?.id).toBe(2);
  expect(choices(plant, view(1, null, 2)).plan?.id).toBe(3);
  expect(choices(plant, view(3)).plan).toBeUndefined();
});

it('asks for the cans of each unit, of each lane, of each of both, or of the machine', () => {
  const cans = (machineId: number, planId: number) => sheetOf(plant, choices(plant, view(machineId, planId)))?.cans.map(({ number, unit, lane }) => `${number}${unit ?? ''}${lane ?? ''}`);
  expect(cans(1, 1)).toEqual(['1H1', '2H1', '3H2', '4H2', '5H3', '6H3']);
  expect(cans(1, 2)).toEqual(['1H1A', '2H1B', '3H2A', '4H2B', '5H3A', '6H3B']);
  expect(cans(1, 3)).toEqual(['1', '2']);
  expect(cans(2, 4)).toEqual(['1A', '2A', '3B', '4B']);
  expect(sheetOf(plant, choices(plant, view(1)))).toBeNull();
});

it('measures what is not derived, and derives what all inputs are measured for', () => {
  const sheet = sheetOf(plant, choices(plant, view(1, 1)));
  expect(sheet?.measured.map(({ code }) => code)).toEqual(['cover-hook', 'body-hook', 'seam-length']);
  expect(sheet?.derived.map(({ code }) => code)).toEqual(['seam-overlap']);
});

it('keeps counts apart from what is measured, ratings within it, and carries gauge step, range and specification of the product', () => {
  const mixed = { ...plant, plans: [plan(1, 1, 1, { characteristics: ['cover-hook', 'body-hook', 'dents', 'wrinkle'] })] };
  const sheet = sheetOf(mixed, choices(mixed, view(1, 1)));
  expect(sheet?.counted.map(({ code }) => code)).toEqual(['dents']);
  expect(sheet?.measured.map(({ code, rating }) => [code, rating])).toEqual([['cover-hook', false], ['body-hook', false], ['wrinkle', true]]);
  expect(sheet?.measured[0]).toMatchObject({ gaugeStep: 0.01, low: 0.5, high: 4, specification: { revision: 3, lsl: 1.5 } });
  expect(sheet?.measured[1]?.specification).toBeNull();
});

it('asks for the units whose turn it is, and opens others behind them without moving a can', () => {
  const all = sheetOf(plant, choices(plant, view(1, 2)));
  if (!all) throw new Error('plan 2 has a sheet');
  const cansOf = (sheet: typeof all) => sheet.cans.map(({ number, unit, lane }) => `${number}${unit ?? ''}${lane ?? ''}`);
  const turn = withUnits(all, [12]);
  expect(cansOf(turn)).toEqual(['1H3A', '2H3B']);
  expect([unitsAsked(turn), unitsLeft(turn)].map((units) => units.map(({ code }) => code))).toEqual([['H3'], ['H1', 'H2']]);
  const draft = withCell(newDraft(turn, { key: 'a-key-of-its-own', takenAt: '2026-03-01T08:00:00.000Z', inspector: 'A', gauges: {}, units: [12] }), 'cover-hook', 3, '1.65');
  const wider = withUnits(turn, [12, 10]);
  expect(cansOf(wider)).toEqual(['1H3A', '2H3B', '3H1A', '4H1B']);
  expect(widened(wider, draft, [12, 10])).toMatchObject({ units: [12, 10], cells: { 'cover-hook': ['', '', '', '1.65', '', '', '', ''] } });
  expect(cansOf(withUnits(turn, [12, 10, 11])).length, 'all of them').toBe(6);
});

it('asks for all units where none is named that the machine has, and of a plan that does not ask by unit', () => {
  const all = sheetOf(plant, choices(plant, view(1, 1)));
  const whole = sheetOf(plant, choices(plant, view(1, 3)));
  if (!all || !whole) throw new Error('plans 1 and 3 have sheets');
  expect(withUnits(all, [77]).cans).toEqual(all.cans);
  expect(unitsLeft(all)).toEqual([]);
  expect(withUnits(whole, [10]).cans).toEqual(whole.cans);
  expect(unitsLeft(whole)).toEqual([]);
});
