import { expect, it } from 'vitest';
import { machineState } from './machine-state.js';

const well = { openSignals: 0, checksDue: 0, holds: 0, streams: true, limits: true, judgedLately: true };

it('shows the most urgent state', () => {
  expect(machineState(well)).toBe('steady');
  expect(machineState({ ...well, checksDue: 1 })).toBe('due');
  expect(machineState({ ...well, checksDue: 1, holds: 1 })).toBe('due');
  expect(machineState({ ...well, checksDue: 1, openSignals: 2, holds: 1 })).toBe('signal');
});

it('never calls steady what was not judged, and says nothing where nothing is charted', () => {
  expect(machineState({ ...well, limits: false })).toBe('not-judged');
  expect(machineState({ ...well, judgedLately: false })).toBe('not-judged');
  expect(machineState({ ...well, streams: false, limits: false, judgedLately: false })).toBeNull();
});

it('says of a machine that product of it is held, also where nothing is charted', () => {
  expect(machineState({ ...well, holds: 1 })).toBe('held');
  expect(machineState({ ...well, holds: 2, streams: false })).toBe('held');
});
