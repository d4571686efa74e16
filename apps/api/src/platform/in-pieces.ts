import { setImmediate } from 'node:timers/promises';

const PIECE = 50;

/** What `map` makes of each entry of a list. Between pieces of a long list others have their turn: answers of the database, and requests of people. */
export async function mapInPieces<In, Out>(list: readonly In[], map: (entry: In, index: number) => Out): Promise<Out[]> {
  const made: Out[] = [];
  for (const [index, entry] of list.entries()) {
    if (index > 0 && index % PIECE === 0) await setImmediate();
    made.push(map(entry, index));
  }
  return made;
}
