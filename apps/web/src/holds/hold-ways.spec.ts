import { expect, it } from 'vitest';
import { makeFormat } from '../shared/format.js';
import { draftFromUrl } from './hold-draft.js';
import { holdWays, wayBetween, withWays } from './hold-ways.js';

const step = (id: number, kind: string) => ({ id, kind, position: id, machines: [{ id: id * 10, code: kind, name: kind, retired: false, units: [] }] });
const stretch = (fromStepId: number, toStepId: number, shortestSeconds: number, longestSeconds: number, leastCans: number | null, mostCans: number | null) => ({ fromStepId, toStepId, shortestSeconds, longestSeconds, leastCans, mostCans });
const line = { id: 1, steps: [step(1, 'body-maker'), step(2, 'flanger'), step(3, 'seamer'), step(4, 'palletizer')], stretches: [stretch(1, 2, 40, 130, 20, 100), stretch(2, 3, 20, 200, 10, 300), stretch(3, 4, 45, 280, null, null)] };
const draft = (query: string) => draftFromUrl(new URLSearchParams(query), makeFormat('Europe/Lisbon'));

it('adds up the stretches of a way, with its cans where all of them are known', () => {
  expect(wayBetween(line, 1, 3)).toMatchObject({ total: { shortestSeconds: 60, longestSeconds: 330, leastCans: 30, mostCans: 400 }, parts: [{ from: 'body-maker', to: 'flanger' }, { from: 'flanger', to: 'seamer' }] });
  expect(wayBetween(line, 1, 4)?.total).toMatchObject({ longestSeconds: 610, leastCans: null });
  expect(wayBetween(line, 3, 3)).toMatchObject({ parts: [], total: { longestSeconds: 0 } });
});

it('knows no way backwards, over a hole, or of a step of another line', () => {
  expect([wayBetween(line, 3, 1), wayBetween({ ...line, stretches: line.stretches.slice(1) }, 1, 3), wayBetween(line, 1, 9)]).toEqual([null, null, null]);
  expect(holdWays(undefined, draft('')).forward).toBeNull();
});

it('fills the times of the ways in, the step from the machine, and leaves what was typed', () => {
  const free = { back: false, forward: false };
  expect(withWays(draft('lineId=1&machineId=20'), [line], free)).toMatchObject({ stepId: '2', backLongest: '0', forwardShortest: '65', forwardLongest: '480' });
  expect(withWays(draft('lineId=1&stepId=3&suspectStepId=1'), [line], free)).toMatchObject({ backShortest: '60', backLongest: '330', forwardLongest: '280' });
  expect(withWays({ ...draft('lineId=1&stepId=3&suspectStepId=1'), backShortest: '7', backLongest: '9' }, [line], { back: true, forward: false })).toMatchObject({ backShortest: '7', backLongest: '9', forwardLongest: '280' });
  expect(withWays(draft('lineId=1&stepId=2&suspectStepId=3'), [line], free)).toMatchObject({ suspectStepId: '', backLongest: '0', forwardLongest: '480' });
  expect(withWays(draft('lineId=1'), [line], free)).toMatchObject({ stepId: '', forwardLongest: '0' });
});
