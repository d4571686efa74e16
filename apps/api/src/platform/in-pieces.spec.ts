import { setImmediate } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { mapInPieces } from './in-pieces.js';

it('maps all entries in order, and lets others have their turn in a long list only', async () => {
  for (const [length, turns] of [[0, 0], [50, 0], [51, 1], [400, 7]] as const) {
    let [others, done] = [0, false];
    const other = (async () => { for (await setImmediate(); !done; await setImmediate()) others += 1; })();
    const list = Array.from({ length }, (_, place) => place);
    expect(await mapInPieces(list, (entry, index) => entry * 1000 + index)).toEqual(list.map((entry) => entry * 1001));
    done = true;
    await other;
    expect(others, `${length} entries`).toBe(turns);
  }
});

it('ends with what an entry throws', async () => {
  await expect(mapInPieces(Array.from({ length: 120 }, (_, place) => place), (entry) => { if (entry === 110) throw new RangeError('entry 110'); return entry; })).rejects.toThrow('entry 110');
});
