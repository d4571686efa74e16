import fc from 'fast-check';
import { expect, it } from 'vitest';
import { START, type WorkbenchState } from '../choices.js';
import { MOST_CHARACTERS, packState, unpackState } from './pack-state.js';

const state = (text: string): WorkbenchState => ({ version: 1, text, source: null, choices: { ...START, unit: 'µm', lsl: '1,05', kind: 'xbar-r' } });

it('brings any text and every choice back from an address', async () => {
  await fc.assert(fc.asyncProperty(fc.string({ unit: 'grapheme', maxLength: 400 }), async (text) => {
    const packed = await packState(state(text));
    expect(packed).toMatch(/^[A-Za-z0-9_-]+$/);
    expect(await unpackState(packed)).toEqual(state(text));
  }), { numRuns: 40 });
});

it('holds two thousand readings in an address', async () => {
  const text = Array.from({ length: 2000 }, (_none, index) => (1.1 + ((index * 7919) % 199) / 1000).toFixed(3)).join('\n');
  const packed = await packState(state(text));
  expect(packed.length).toBeLessThan(MOST_CHARACTERS);
  expect((await unpackState(packed))?.text).toBe(text);
});

it('takes nothing from an address that was cut, changed or never held data', async () => {
  const packed = await packState(state('1\n2\n3\n4\n5\n6'));
  for (const broken of ['', '%', 'AAAA', packed.slice(0, -6), `${packed.slice(0, 10)}xx${packed.slice(12)}`]) expect(await unpackState(broken), broken).toBeNull();
});

it('fills choices that an older address does not know with what the screen begins with', async () => {
  const older = JSON.parse(JSON.stringify(state('1\n2'))) as { choices: Record<string, unknown> };
  delete older.choices['confidence'];
  expect(await unpackState(await packState(older as unknown as WorkbenchState))).toEqual({ ...state('1\n2'), choices: { ...state('').choices, confidence: 0.95 } });
});
