import type { WallBoard } from '#contract/wall';
import type { Wall } from '../platform/endpoint.js';
import type { Tx } from '../platform/work.js';
import { nowBoard } from './now-board.js';

/** The Now board as a wall screen may show it: how many incidents, and nobody's name. */
export async function wallBoard(tx: Tx, { plantId, plant, timeZone, screen }: Wall, now: Date): Promise<WallBoard> {
  const { at, lines, openSignals, signals, due } = await nowBoard(tx, plantId, now);
  return {
    plant, timeZone, screen, at, openSignals, due,
    lines: lines.map(({ incidents, ...line }) => ({ ...line, incidents: incidents.length })),
    signals: signals.map(({ id, stream, chart, rule, side, state, firedAt, seen }) => ({ id, stream, chart, rule, side, state, firedAt, seen })),
  };
}
