import { expect, it } from 'vitest';
import { inUseDuring, made, missedEvents, missedIntervals, type PlanHistory, whileInUse } from './missed-checks.js';

const start = Date.UTC(2026, 2, 2, 6);
const at = (minutes: number) => start + minutes * 60_000;
const state = { at: 0, everyMinutes: 60, everyCans: null, openedBy: ['jam', 'long-stop'], longStopMinutes: 30 };
const marks = (...minutes: number[]) => minutes.map((minute) => ({ at: at(minute), skip: false }));
const plan: PlanHistory = { states: [state], marks: marks(0, 60, 120), productSpans: null, counts: null, events: [] };
const period = { from: at(0), to: at(240) };

it('lists a gap of more than one and a half intervals, with how many checks it lacks', () => {
  expect(missedIntervals({ ...plan, marks: marks(0, 60, 150, 239) }, period)).toEqual([]);
  expect(missedIntervals({ ...plan, marks: marks(0, 60, 200, 239) }, period)).toEqual([{ from: at(60), until: at(200), every: 60, unit: 'minutes', passed: 140, basis: 'clock', missed: 2 }]);
});

it('ends an open gap with the period, and begins with the period where no check is older', () => {
  expect(missedIntervals(plan, period)).toMatchObject([{ from: at(120), until: null, passed: 120, missed: 1 }]);
  expect(missedIntervals({ ...plan, marks: [] }, period)).toMatchObject([{ from: at(0), until: null, passed: 240, missed: 3 }]);
  expect(missedIntervals({ ...plan, marks: marks(0, 60, 120, 300) }, period)).toMatchObject([{ until: at(300), passed: 120 }]);
});

it('counts running time and cans where they are counted, not the clock', () => {
  const counts = [{ from: at(0), minutes: 60, cans: 6000 }, { from: at(60), minutes: 10, cans: 1000 }, { from: at(200), minutes: 40, cans: 4000 }];
  expect(missedIntervals({ ...plan, marks: marks(0, 60), counts }, period)).toEqual([]);
  expect(missedIntervals({ ...plan, marks: marks(0, 60), counts, states: [{ ...state, everyCans: 2000 }] }, period)).toEqual([
    { from: at(0), until: at(60), every: 2000, unit: 'cans', passed: 6000, basis: 'cans', missed: 2 },
    { from: at(60), until: null, every: 2000, unit: 'cans', passed: 5000, basis: 'cans', missed: 2 },
  ]);
  expect(made(at(30), at(65), { productSpans: null, counts })).toEqual({ minutes: 35, cans: 3500 });
});

it('leaves out the time in which the line made another product', () => {
  const productSpans = [{ from: at(0), until: at(130) }];
  expect(missedIntervals({ ...plan, productSpans }, period)).toEqual([]);
  expect(missedEvents({ ...plan, productSpans, marks: [], events: [{ id: 1, kind: 'jam', at: at(140), until: null }] }, period, at(500))).toEqual([]);
});

it('judges a gap by the plan as it stood when the gap began', () => {
  const tightened = [state, { ...state, at: at(110), everyMinutes: 20 }];
  expect(missedIntervals({ ...plan, states: tightened, marks: marks(0, 60, 120, 180, 239) }, period)).toMatchObject([{ from: at(120), every: 20, missed: 2 }, { from: at(180), every: 20, missed: 2 }]);
});

it('lists events whose check came late or not at all, a stop only when it was long enough', () => {
  const events = [{ id: 1, kind: 'jam', at: at(10), until: at(20) }, { id: 2, kind: 'stop', at: at(60), until: at(80) }, { id: 3, kind: 'stop', at: at(85), until: at(115) }, { id: 4, kind: 'coil-change', at: at(130), until: null }, { id: 5, kind: 'jam', at: at(130), until: null }];
  expect(missedEvents({ ...plan, marks: marks(0, 80, 200), events }, period, at(500))).toEqual([{ from: at(115), until: at(200), eventId: 3 }, { from: at(130), until: at(200), eventId: 5 }]);
  expect(missedEvents({ ...plan, marks: [{ at: at(120), skip: true }, { at: at(140), skip: true }], events: events.slice(2) }, period, at(500))).toEqual([]);
  expect(missedEvents({ ...plan, marks: [], events: events.slice(4) }, period, at(150)), 'there is still time').toEqual([]);
});

it('misses no check of a plan while it was out of use', () => {
  const states = [state, { ...state, at: at(70), retired: true }, { ...state, at: at(200) }];
  const events = [{ id: 1, kind: 'jam', at: at(100), until: null }, { id: 2, kind: 'jam', at: at(210), until: null }];
  expect(missedIntervals({ ...plan, states, marks: marks(0, 60) }, period)).toMatchObject([{ passed: 180 }]);
  const used = { ...plan, states, marks: marks(0, 60), events, productSpans: whileInUse(null, states) };
  expect(missedIntervals(used, period)).toEqual([]);
  expect(missedEvents(used, period, at(500))).toEqual([{ from: at(210), until: null, eventId: 2 }]);
  expect(whileInUse([{ from: at(50), until: at(100) }], states)).toEqual([{ from: at(50), until: at(70) }]);
  expect(whileInUse(null, [state])).toBeNull();
  const during = (from: number, until: number) => inUseDuring(states, { from: at(from), until: at(until) });
  expect([during(-90, -60), during(60, 70), during(70, 199), during(150, 200), during(300, 300)]).toEqual([true, true, false, true, true]);
});

it('adds up counts from wherever a gap begins, long ones and short ones', () => {
  const counts = Array.from({ length: 3000 }, (_, index) => ({ from: at(index), minutes: 1, cans: 100 }));
  expect(made(at(2000.5), at(2030), { productSpans: null, counts })).toEqual({ minutes: 29.5, cans: 2950 });
  expect(made(at(1439), at(1500), { productSpans: null, counts: [{ from: at(0), minutes: 1440, cans: 1440 }, { from: at(1500), minutes: 10, cans: 10 }] })).toEqual({ minutes: 1, cans: 1 });
});
