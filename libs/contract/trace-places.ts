import { z } from 'zod';
import { finite, id } from './shapes.js';

/** Names a place of a ranking by what it is, wherever it stands after the next check. */
export const originRef = z.object({
  machineId: id, unitId: id.nullable().default(null), laneId: id.nullable().default(null),
  pattern: z.enum(['all', 'one', 'periodic', 'undecided', 'lot']),
  lotEventId: id.nullable().default(null).describe('log-book entry that brought the material lot; null: no lot'),
});
export type OriginRef = z.infer<typeof originRef>;

/** The same with where it stood, and with which share, when a person looked at it. */
export const seenOrigin = originRef.extend({
  place: z.number().int().min(0).max(100_000).describe('from 0'), share: finite.min(0).max(1).describe('0 to 1'),
});
export type SeenOrigin = z.infer<typeof seenOrigin>;
export type Standing = Pick<SeenOrigin, 'place' | 'share'>;

type Named = { machine: { id: number }; unit: { id: number } | null; lane: { id: number } | null; pattern: OriginRef['pattern']; lot?: { eventId: number } | null };

export const refOf = ({ machine, unit, lane, pattern, lot }: Named): OriginRef => ({ machineId: machine.id, unitId: unit?.id ?? null, laneId: lane?.id ?? null, pattern, lotEventId: lot?.eventId ?? null });
export const originKey = ({ machineId, unitId, laneId, pattern, lotEventId }: OriginRef): string => [machineId, unitId, laneId, pattern, lotEventId].join(' ');

/** Places with less than this may change places among each other without anybody minding. */
const COUNTS_FROM = 0.01;
const APART = 0.1;
/** Whether a place stands otherwise than it was seen: by more than ten points of its share, or at another place where its share is one percent or more. */
export const standsOtherwise = (seen: Standing, now: Standing): boolean => Math.abs(now.share - seen.share) > APART || (now.place !== seen.place && Math.max(now.share, seen.share) >= COUNTS_FROM);
