import { z } from 'zod';
import type { AnswerOf, InputOf } from '#contract/endpoint';
import { disposition, type Hold, type HoldRow, hold, holdArithmetic, holdDecision, holdSample, type listHolds } from '#contract/holds';
import { Problem } from '#contract/problem';
import { Prisma } from '../platform/generated/client.js';
import type { Reading } from '../platform/reading.js';
import type { Tx } from '../platform/work.js';

type Filters = Omit<InputOf<typeof listHolds>['query'], 'take' | 'skip'>;
export type HoldRecord = Omit<HoldRow, 'from' | 'until' | 'openedAt' | 'changedAt' | 'suspectCans' | 'openEnded'> & { from: Date; until: Date; openedAt: Date; changedAt: Date; arithmetic: unknown };

/** A hold `h` that is not decided; in the text of the statement, so that the index of states is read. */
const isOpen = Prisma.sql`h.state IN ('proposed', 'placed', 'under-examination')`;

/** Of holds `h` those that `which` says: the ones that are not decided first, then the newest. */
const holdRecords = (plantId: number, which: Prisma.Sql, { take, skip }: { take: number; skip: number }): Reading<HoldRecord> => ({ moments: ['from', 'until', 'openedAt', 'changedAt'], sql: Prisma.sql`
    SELECT h.id, h.state, h.disposition, h.line_id AS "lineId", l.code AS line, l.name AS "lineName", s.kind AS "stepKind", coalesce(m.code, um.code) AS machine, u.code AS unit, n.code AS lane, h.from_at AS "from", h.until_at AS until, h.reason, h.arithmetic,
      (SELECT count(*)::int FROM hold_pallet p WHERE p.plant_id = h.plant_id AND p.hold_id = h.id) AS pallets, (SELECT count(*)::int FROM hold_pallet p WHERE p.plant_id = h.plant_id AND p.hold_id = h.id AND p.disposition IS NULL) AS "palletsLeft",
      h.signal_id AS "signalId", h.incident_id AS "incidentId", o.name AS "openedBy", h.opened_at AS "openedAt", h.changed_at AS "changedAt", h.revision
    FROM hold h JOIN line l ON l.plant_id = h.plant_id AND l.id = h.line_id JOIN "user" o ON o.plant_id = h.plant_id AND o.id = h.opened_by
    LEFT JOIN step s ON s.plant_id = h.plant_id AND s.id = h.step_id LEFT JOIN machine m ON m.plant_id = h.plant_id AND m.id = h.machine_id LEFT JOIN unit u ON u.plant_id = h.plant_id AND u.id = h.unit_id
    LEFT JOIN machine um ON um.plant_id = u.plant_id AND um.id = u.machine_id LEFT JOIN lane n ON n.plant_id = h.plant_id AND n.id = h.lane_id
    WHERE h.plant_id = ${plantId} AND ${which}
    ORDER BY (h.state IN ('decided', 'withdrawn')), h.opened_at DESC, h.id DESC LIMIT ${take} OFFSET ${skip}` });

/** The newest holds that are not decided, from the index of states. */
export const openHolds = (plantId: number, take: number): Reading<HoldRecord> => holdRecords(plantId, isOpen, { take, skip: 0 });

function wholeRowOf({ arithmetic: kept, ...row }: HoldRecord): HoldRow & { arithmetic: Hold['arithmetic'] } {
  const arithmetic = holdArithmetic.parse(kept);
  return { ...row, arithmetic, from: row.from.toISOString(), until: row.until.toISOString(), openedAt: row.openedAt.toISOString(), changedAt: row.changedAt.toISOString(), suspectCans: arithmetic.cans?.suspect ?? null, openEnded: arithmetic.openEnded };
}

export function holdRowOf(record: HoldRecord): HoldRow {
  const { arithmetic: _arithmetic, ...row } = wholeRowOf(record);
  return row;
}

function listRecords(tx: Tx, plantId: number, filters: Filters & { take: number; skip: number }, id: number | null = null): Promise<HoldRecord[]> {
  const which = Prisma.sql`(${id}::int IS NULL OR h.id = ${id}::int)
      AND (${filters.state ?? null}::text IS NULL OR h.state = ${filters.state ?? null} OR (${filters.state ?? null} = 'open' AND ${isOpen}))
      AND (${filters.lineId ?? null}::int IS NULL OR h.line_id = ${filters.lineId ?? null}::int) AND (${filters.incidentId ?? null}::int IS NULL OR h.incident_id = ${filters.incidentId ?? null}::int) AND (${filters.signalId ?? null}::int IS NULL OR h.signal_id = ${filters.signalId ?? null}::int)`;
  return tx.$queryRaw<HoldRecord[]>`/* named: hold-rows */ ${holdRecords(plantId, which, filters).sql}`;
}

export async function listHoldRows(tx: Tx, plantId: number, filters: Filters & { take: number; skip: number }): Promise<AnswerOf<typeof listHolds>> {
  const rows = (await listRecords(tx, plantId, filters)).map(holdRowOf);
  const states = filters.state === undefined ? undefined : filters.state === 'open' ? ['proposed', 'placed', 'under-examination'] : [filters.state];
  const where = { plantId, lineId: filters.lineId, incidentId: filters.incidentId, signalId: filters.signalId };
  const total = await tx.hold.count({ where: { ...where, ...(states ? { state: { in: states } } : {}) } });
  const open = await tx.hold.count({ where: { ...where, state: { in: ['proposed', 'placed', 'under-examination'] } } });
  return { total, open, rows };
}

/** The whole hold as its page shows it. */
export async function holdView(tx: Tx, plantId: number, id: number): Promise<Hold> {
  const [record] = await listRecords(tx, plantId, { take: 1, skip: 0 }, id);
  if (!record) throw new Problem('not-found', `There is no hold ${id}.`);
  const pallets = await tx.holdPallet.findMany({ where: { plantId, holdId: id }, orderBy: { id: 'asc' } });
  const steps = await tx.holdStep.findMany({ where: { plantId, holdId: id }, orderBy: [{ at: 'asc' }, { id: 'asc' }] });
  return hold.parse({
    ...wholeRowOf(record), palletList: pallets.map((pallet) => ({ id: pallet.id, code: pallet.code, from: pallet.fromAt?.toISOString() ?? null, until: pallet.untilAt?.toISOString() ?? null, disposition: disposition.nullable().parse(pallet.disposition) })),
    steps: steps.map(({ id: stepId, at, actor, role, action, comment, detail }) => ({
      id: stepId, at: at.toISOString(), actor, role, action, comment, sample: action === 'sampled' ? holdSample.parse(detail) : null, decision: action === 'decided' ? z.object(holdDecision.shape).parse(detail) : null,
    })),
  });
}
