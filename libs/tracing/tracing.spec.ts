import fc from 'fast-check';
import type { PlanHistory } from '#canmaking/line/missed-checks';
import { expect, it } from 'vitest';
import { candidatesOf } from './candidates.js';
import type { Evidence, TracedStream } from './evidence.js';
import { lotsOn } from './lots.js';
import { missedChecks } from './missed-checks.js';
import { onsetEvidence } from './onset-evidence.js';
import { periodicEvidence } from './periodic-evidence.js';
import { priorOf } from './prior.js';
import { shiftEvidence, shiftOfSpans } from './shift-evidence.js';
import { standardise } from './standardise.js';
import { stepWindows } from './step-windows.js';
import { traceOrigins } from './trace-origins.js';

const HOUR = 3_600_000;
const T = Date.UTC(2026, 2, 8, 10);

function stream(id: number, unitId: number | null, values: readonly number[], more: Partial<TracedStream> = {}): TracedStream {
  return { id, characteristic: 'body-hook', stepKind: 'seamer', machineId: 3, laneId: null, unitId, limits: { centre: 10, sigma: 1 }, points: values.map((value, i) => ({ at: T + (i - 30) * HOUR, mean: value, n: 1, members: [value] })), ...more };
}
/** Steady, with a little noise that is the same each time. */
const steady = (length: number, seed: number): number[] => Array.from({ length }, (_, i) => 10 + Math.sin((i + 1) * 12.9898 * seed) * 1.2);
const shifted = (values: readonly number[], from: number, to: number, by: number): number[] => values.map((value, i) => (i >= from && i < to ? value + by : value));

const evidence = (more: Partial<Evidence> = {}): Evidence => ({
  line: {
    id: 1, clockMinutes: 2, lanes: [], slitterLanes: null,
    steps: [{ id: 1, kind: 'body-maker', machines: [{ id: 1, code: 'BM', units: [] }] }, { id: 2, kind: 'flanger', machines: [{ id: 2, code: 'FL', units: [] }] }, { id: 3, kind: 'seamer', machines: [{ id: 3, code: 'SM', units: [1, 2, 3, 4].map((unit) => ({ id: unit, code: `H${unit}`, position: unit })) }] }],
    stretches: [{ fromStepId: 1, toStepId: 2, shortestSeconds: 60, longestSeconds: 600, leastCans: null, mostCans: null }, { fromStepId: 2, toStepId: 3, shortestSeconds: 30, longestSeconds: 300, leastCans: null, mostCans: null }],
  },
  complaint: { defect: 'short-body-hook', leakPlace: "double seam, maker's end", from: T, until: T, codedAtStepId: 3, laneId: null, unitId: null },
  counts: [], streams: [], signals: [], checks: [], plans: [], events: [], now: T + 30 * HOUR, ...more,
});

it('finds the head whose readings moved while the cans passed, and all heads where all moved', () => {
  const one = traceOrigins(evidence({ streams: [1, 2, 3, 4].map((unit) => stream(unit, unit, unit === 3 ? shifted(steady(60, unit), 25, 45, -3) : steady(60, unit))) }));
  expect(one.origins[0]).toMatchObject({ machineId: 3, unitId: 3, pattern: 'one', enoughData: true });
  const all = traceOrigins(evidence({ complaint: { ...evidence().complaint, defect: 'loose-seam' }, streams: [1, 2, 3, 4].map((unit) => stream(unit, unit, shifted(steady(60, unit), 25, 45, 3), { characteristic: 'seam-thickness' })) }));
  expect(all.origins[0]).toMatchObject({ machineId: 3, unitId: null, pattern: 'all' });
});

it('says by which factor a large shift makes a place likelier as a number, whatever its size', () => {
  for (const by of [6, 12, 50]) {
    const { origins } = traceOrigins(evidence({ streams: [1, 2, 3, 4].map((unit) => stream(unit, unit, shifted(steady(60, unit), 24, 45, by))) }));
    const factors = origins.flatMap(({ findings }) => findings.flatMap((finding) => ('times' in finding ? [finding.times] : [])));
    expect(Math.max(...factors)).toBeGreaterThan(1e100);
    expect(factors.filter((factor) => !Number.isFinite(factor))).toEqual([]);
  }
});

it('does not blame a head that moved and was set right before the cans were made', () => {
  const { origins } = traceOrigins(evidence({ streams: [1, 2, 3, 4].map((unit) => stream(unit, unit, unit === 3 ? shifted(steady(60, unit), 5, 20, -4) : steady(60, unit))) }));
  expect(origins[0]?.unitId).not.toBe(3);
});

it('does not blame the whole machine for one head that went off about when the cans were made', () => {
  // Nothing was read while they passed: of the head itself it is open whether it went off before or after them.
  const complaint = { ...evidence().complaint, from: T + HOUR / 2, until: T + HOUR / 2 };
  const { origins } = traceOrigins(evidence({ complaint, streams: [1, 2, 3, 4].map((unit) => stream(unit, unit, unit === 3 ? shifted(steady(60, unit), 31, 60, -4) : steady(60, unit))) }));
  const share = (fits: (origin: (typeof origins)[number]) => boolean) => origins.filter((origin) => origin.machineId === 3 && fits(origin)).reduce((sum, origin) => sum + origin.share, 0);
  expect(share(({ unitId }) => unitId === 3)).toBeGreaterThan(5 * share(({ pattern }) => pattern === 'all'));
});

it('gives shares that add up to 1, whatever the readings are', () => {
  fc.assert(fc.property(fc.array(fc.integer({ min: -500, max: 500 }), { minLength: 0, maxLength: 40 }), fc.integer({ min: 1, max: 4 }), (values, unit) => {
    const { origins } = traceOrigins(evidence({ streams: [stream(unit, unit, values.map((value) => value / 10))] }));
    expect(origins.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
    expect(origins.every(({ share }) => Number.isFinite(share) && share >= 0)).toBe(true);
  }), { numRuns: 60 });
});

it('judges a shift by how far it is, not by unit or origin of the readings', () => {
  const values = shifted(steady(60, 2), 25, 45, 2);
  const of = (scale: number, offset: number) => {
    const standard = standardise(stream(1, null, values.map((value) => value * scale + offset), { limits: { centre: 10 * scale + offset, sigma: scale } }));
    return shiftEvidence(standard ? [standard] : [], { from: T, until: T })?.logRatio ?? Number.NaN;
  };
  expect(of(1, 0)).toBeGreaterThan(3);
  expect(of(0.03, 1e3)).toBeCloseTo(of(1, 0), 6);
  expect(shiftEvidence([], { from: T, until: T })).toBeNull();
});

it('sees every third body off, and not a level that moved as a whole', () => {
  const bodies = (by: (can: number) => number): TracedStream => stream(1, null, [], { points: Array.from({ length: 12 }, (_, i) => { const members = steady(9, i + 2).map((value, can) => value + by(can)); return { at: T + (i - 6) * HOUR, mean: 10, n: 9, members }; }) });
  const span = { from: T - 12 * HOUR, until: T + 12 * HOUR };
  const third = periodicEvidence([bodies((can) => (can % 3 === 1 ? 3 : 0))], [2, 3, 4], span);
  expect(third).toMatchObject({ period: 3 });
  expect(third?.logRatio).toBeGreaterThan(5);
  expect(periodicEvidence([bodies(() => 3)], [2, 3, 4], span)?.logRatio).toBeLessThan(1);
});

it('takes a rare entry where a fault can have begun as more than a frequent one', () => {
  const events = (count: number) => Array.from({ length: count }, (_, i) => ({ id: i + 1, machineId: 3, kind: 'roll-change' as const, at: T - i * 10 * HOUR, until: null, text: '' }));
  const [records, onset] = [{ from: T - 200 * HOUR, until: T }, { from: T - HOUR, until: T }];
  expect(onsetEvidence(events(1), 3, onset, records).logRatio).toBeGreaterThan(onsetEvidence(events(20), 3, onset, records).logRatio);
  expect(onsetEvidence([], 3, onset, records)).toMatchObject({ eventId: null });
});

it('walks the code back by time, and says where no way is known', () => {
  const { line, complaint } = evidence();
  const [body, flange, seam] = stepWindows({ line, complaint, counts: [], events: [] });
  expect(seam).toMatchObject({ basis: 'code', from: T - 120_000, until: T + 120_000 });
  expect(flange).toMatchObject({ basis: 'transit', from: T - 420_000, until: T + 90_000 });
  expect(body).toMatchObject({ basis: 'transit', from: T - 1_020_000, until: T + 30_000 });
  expect(stepWindows({ line: { ...line, stretches: [] }, complaint, counts: [], events: [] }).map(({ basis }) => basis)).toEqual(['unknown', 'unknown', 'code']);
  // A stretch over a step bounds what lies inside it.
  const over = { ...line, stretches: [{ fromStepId: 1, toStepId: 3, shortestSeconds: 60, longestSeconds: 600, leastCans: null, mostCans: null }] };
  expect(stepWindows({ line: over, complaint, counts: [], events: [] })[1]).toMatchObject({ basis: 'transit', from: T - 720_000, until: T + 120_000 });
});

it('tells a check that was due and is not there from one that is a little late, by the clock, by running, by cans and after an event', () => {
  const state = { at: 0, everyMinutes: 60, everyCans: null, openedBy: ['jam'], longStopMinutes: null };
  const of = (hours: readonly number[], more: Partial<PlanHistory> = {}) => missedChecks({ now: T + 30 * HOUR, plans: [{ id: 1, machineId: 3, name: 'Seam', history: { states: [state], marks: hours.map((hour) => ({ at: T + hour * HOUR, skip: false })), productSpans: null, counts: null, events: [], ...more } }] }, 3, { from: T, until: T });
  expect(of([-2, 1])).toEqual([{ plan: 'Seam', lastAt: T - 2 * HOUR, nextAt: T + HOUR, everyMinutes: 60, everyCans: null, openedBy: null }]);
  expect(of([-0.7, 0.7])).toEqual([]);
  const counted = (...hours: number[]) => ({ counts: hours.map((hour) => ({ from: T + hour * HOUR, minutes: 30, cans: 3000 })) });
  // The line stood for most of the hole: nothing was due.
  expect(of([-2, 1], counted(-2, 0.4))).toEqual([]);
  expect(of([-2, 1], { ...counted(-2, 0.4), states: [{ ...state, everyMinutes: null, everyCans: 2000 }] })).toMatchObject([{ everyMinutes: null, everyCans: 2000 }]);
  expect(of([-0.7, 1.2], { states: [{ ...state, everyMinutes: null }], events: [{ id: 7, kind: 'jam', at: T - 0.5 * HOUR, until: null }] })).toMatchObject([{ openedBy: 'jam', lastAt: T - 0.5 * HOUR, nextAt: T + 1.2 * HOUR }]);
});

it('refuses a line without steps and a complaint that ends before it begins', () => {
  expect(() => traceOrigins(evidence({ line: { ...evidence().line, steps: [] } }))).toThrow('needs a line with steps');
  expect(() => traceOrigins(evidence({ complaint: { ...evidence().complaint, until: T - 1 } }))).toThrow('ends after it begins');
});

it('ranks a signal among its own machine and what lies before it, and does not blame the machine for showing a fault of an earlier one', () => {
  const seenAt = { machineId: 3, characteristic: 'body-hook' };
  const hooks = (heads: readonly number[]) => [1, 2, 3, 4].map((unit) => stream(unit, unit, heads.includes(unit) ? shifted(steady(60, unit), 25, 45, -3) : steady(60, unit)));
  const flange = (by: number) => stream(9, null, shifted(steady(60, 9), 24, 45, by), { characteristic: 'flange-width', stepKind: 'flanger', machineId: 2 });
  const one = traceOrigins(evidence({ seenAt, streams: [...hooks([3]), flange(0)] }));
  expect(one.origins[0]).toMatchObject({ machineId: 3, unitId: 3 });
  const narrow = traceOrigins(evidence({ seenAt, streams: [...hooks([1, 2, 3, 4]), flange(-3)] }));
  expect(narrow.origins[0]).toMatchObject({ machineId: 2 });
  const flanger = traceOrigins(evidence({ seenAt: { machineId: 2, characteristic: 'flange-width' }, streams: [...hooks([3]), flange(-3)], complaint: { ...evidence().complaint, codedAtStepId: 2 } }));
  expect(new Set(flanger.origins.map(({ machineId }) => machineId))).toEqual(new Set([1, 2]));
  expect(flanger.origins.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  expect(() => traceOrigins(evidence({ seenAt: { machineId: 99, characteristic: 'x' } }))).toThrow('needs the machine of the signal on the line, 99 given');
});

it('puts a lot before its machine where what is read moved just while it was on, and the machine before the lot where it did not', () => {
  const heads = (from: number, to: number) => [1, 2, 3, 4].map((unit) => stream(unit, unit, shifted(steady(60, unit), from, to, 3), { characteristic: 'seam-thickness' }));
  const change = (id: number, hours: number) => ({ id, machineId: 3, kind: 'end-lot-change' as const, at: T + hours * HOUR - 60_000, until: null, text: `lot ${id}` });
  const events = [change(1, -25), change(2, -9), change(3, -2), change(4, 6), change(5, 14)];
  const complaint = { ...evidence().complaint, defect: 'loose-seam' };
  const ofLot = traceOrigins(evidence({ complaint, events, streams: heads(28, 36) })).origins;
  expect(ofLot[0]).toMatchObject({ machineId: 3, pattern: 'lot', lotEventId: 3, unitId: null, enoughData: true });
  expect(ofLot[0]?.findings.find(({ kind }) => kind === 'shifted')).toMatchObject({ lastGoodAt: T - 3 * HOUR, firstBadAt: T - 2 * HOUR, nextGoodAt: T + 6 * HOUR });
  expect(ofLot[0]?.findings).toContainEqual({ kind: 'material', material: 'ends', share: expect.closeTo(0.18, 9) });
  const ofMachine = traceOrigins(evidence({ complaint, events, streams: heads(12, 55) })).origins;
  expect(ofMachine[0]).toMatchObject({ machineId: 3, pattern: 'all', lotEventId: null });
  // Without an entry no lot is known, and none is ranked; the shares still add up.
  for (const known of [[], events]) {
    const { origins } = traceOrigins(evidence({ complaint, events: known, streams: heads(28, 36) }));
    expect(origins.filter(({ pattern }) => pattern === 'lot')).toHaveLength(known.length === 0 ? 0 : 1);
    expect(origins.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  }
});

it('spreads the prior over machines, units and lots without losing any of it, with the plant’s own weights too', () => {
  const change = (id: number, kind: 'end-lot-change' | 'coil-change', machineId: number, hours: number) => ({ id, machineId, kind, at: T + hours * HOUR, until: null, text: `lot ${id}` });
  const events = [change(1, 'end-lot-change', 3, -20), change(2, 'coil-change', 3, 0), change(3, 'coil-change', 1, -9)];
  const { line, complaint } = evidence();
  const lots = lotsOn({ line, events }, stepWindows(evidence({ events })));
  expect(lots.map(({ eventId }) => eventId)).toEqual([3, 1, 2]);
  const origins = [{ step: 'seamer', units: 'unit', weight: 0.4, characteristics: [] }, { step: 'body-maker', units: 'machine', weight: 0.6, characteristics: [] }] as const;
  for (const given of [complaint, { ...complaint, defect: 'peaked-end' }, { ...complaint, defect: 'weld-contamination', origins }]) {
    expect(candidatesOf(line, lots).reduce((sum, candidate) => sum + priorOf(candidate, line, given, lots).share, 0), given.defect).toBeCloseTo(1, 9);
  }
});

it('takes what the lot before shows for a lot without a reading only as far as both may be of one delivery', () => {
  const at = (index: number) => T + (index - 30) * HOUR;
  const standard = standardise(stream(1, 1, shifted(steady(60, 1), 10, 20, 4)));
  if (!standard) throw new Error('the stream is usable');
  const [own, withBefore] = [{ from: at(19.2), until: at(19.8) }, { from: at(10), until: at(19.8) }];
  const known = shiftOfSpans([standard], own, [{ ...withBefore, weight: 1 }]);
  expect(known?.logRatio).toBeGreaterThan(10);
  expect(shiftOfSpans([standard], own, [{ ...own, weight: 0.85 }, { ...withBefore, weight: 0.15 }])?.logRatio).toBeCloseTo((known?.logRatio ?? 0) + Math.log(0.15), 3);
  expect(shiftOfSpans([standard], own, [{ ...own, weight: 1 }])).toBeNull();
});

it('counts what a fault moves at later steps for the step where it begins, and not for the one that shows it', () => {
  const hooks = [1, 2, 3, 4].map((unit) => stream(unit, unit, shifted(steady(60, unit), 24, 45, -2)));
  const flange = (by: number) => stream(9, null, shifted(steady(60, 9), 24, 45, by), { characteristic: 'flange-width', stepKind: 'flanger', machineId: 2 });
  const [narrow, good] = [-2, 0].map((by) => traceOrigins(evidence({ streams: [...hooks, flange(by)] })).origins[0]);
  expect(narrow).toMatchObject({ machineId: 2, pattern: 'all' });
  expect(good).toMatchObject({ machineId: 3, pattern: 'all' });
});
