import { expect, it } from 'vitest';
import type { Surrounding } from '#contract/incidents';
import { surroundingsFigure } from './surroundings.figure.js';

const machine = { shift: null, machineId: 1, machine: 'BM1', machineName: 'Body maker 1', stepKind: 'body-maker' };
const entries: Surrounding[] = [
  { kind: 'check', ...machine, at: '2026-03-01T06:00:00.000Z', checkId: 4, inspector: 'x', gauges: [], status: 'steady', subgroups: 1 },
  { kind: 'missed', ...machine, at: '2026-03-01T06:00:00.000Z', until: '2026-03-01T09:00:00.000Z', plan: 'Weld', everyMinutes: 30, everyCans: null, openedBy: null, due: 5 },
  { kind: 'event', shift: null, at: '2026-03-01T07:00:00.000Z', until: null, machineId: null, machine: null, machineName: null, stepKind: null, eventId: 9, eventKind: 'stop', text: 'Jam', actor: 'x' },
];
const words = { kind: (kind: string) => kind, wholeLine: 'whole line', made: 'made', describe: ({ kind }: Surrounding) => `one ${kind}` };
const figure = surroundingsFigure(entries, '2026-03-01T08:00:00.000Z', ['whole line', 'BM1'], (iso) => iso.slice(0, 16), words);

it('draws one trace a kind that is there, each with its own shape, in rows of machines', () => {
  expect(figure.data.map(({ name }) => name)).toEqual(['check', 'missed', 'event']);
  expect(figure.data[0]).toMatchObject({ x: ['2026-03-01T06:00'], y: ['BM1'], text: ['one check'] });
  expect(figure.data[1]).toMatchObject({ x: ['2026-03-01T06:00', '2026-03-01T09:00', null], mode: 'lines' });
  expect(figure.data[2]).toMatchObject({ y: ['whole line'] });
  const symbols = figure.data.flatMap((trace) => ('marker' in trace ? [JSON.stringify(trace.marker)] : []));
  expect(new Set(symbols).size).toBe(symbols.length);
});

it('marks when the cans were made, and keeps the order of the line from top to bottom', () => {
  expect(figure.layout.shapes).toMatchObject([{ x0: '2026-03-01T08:00', x1: '2026-03-01T08:00', yref: 'paper' }]);
  expect(figure.layout.yaxis?.categoryarray).toEqual(['BM1', 'whole line']);
  expect(surroundingsFigure([], '2026-03-01T08:00:00.000Z', [], (iso) => iso, words).data).toEqual([]);
});
