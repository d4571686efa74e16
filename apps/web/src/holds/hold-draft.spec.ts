import { expect, it } from 'vitest';
import { makeFormat } from '../shared/format.js';
import { draftFromUrl, readHoldDraft, readPallets, writePallets } from './hold-draft.js';

const format = makeFormat('Europe/Lisbon');
const draft = draftFromUrl(new URLSearchParams('lineId=2&unitId=5&laneId=x&from=2026-07-01T08:00:30Z&until=2026-07-01T09:00:30Z'), format);

it('takes over what the address brings, rounded outward to the minute, in the time of the plant', () => {
  expect(draft).toMatchObject({ lineId: '2', unitId: '5', laneId: '', from: '2026-07-01T09:00', until: '2026-07-01T10:01' });
  expect(readHoldDraft(draft, format)).toMatchObject({ faults: [], body: { lineId: 2, unitId: 5, laneId: null, from: '2026-07-01T08:00:00.000Z', until: '2026-07-01T09:01:00.000Z', figure: null } });
  expect(draftFromUrl(new URLSearchParams('until=2026-07-01T09:00:00Z&from=never'), format)).toMatchObject({ from: '', until: '2026-07-01T10:00' });
});

it('says what is not as it must be', () => {
  const faults = (change: object) => readHoldDraft({ ...draft, ...change }, format).faults;
  expect(faults({ lineId: '', from: '', until: '' })).toEqual(['line', 'from', 'until']);
  expect(faults({ until: draft.from })).toEqual(['until']);
  expect(faults({ backLongest: '-1', forwardShortest: '9', perMinute: '0', boundary: 'noon', firstBad: 'x' })).toEqual(['firstBad', 'back', 'forward', 'perMinute', 'boundary']);
  expect(faults({ pallets: 'P1\n\nP2; 2026-07-01T09:00' })).toEqual([{ palletLine: 3 }]);
});

it('reads pallets as it writes them', () => {
  const text = 'P1; 2026-07-01T09:00:00; 2026-07-01T09:10:00\nP2';
  const { pallets, badLines } = readPallets(text, format);
  expect([pallets, badLines]).toEqual([[{ code: 'P1', from: '2026-07-01T08:00:00.000Z', until: '2026-07-01T08:10:00.000Z' }, { code: 'P2', from: null, until: null }], []]);
  expect(writePallets(pallets, format)).toBe(text);
  expect(readPallets('; 2026-07-01T09:00; 2026-07-01T09:10\na; b; c\na; ; ; d', format).badLines).toEqual([1, 2, 3]);
});
