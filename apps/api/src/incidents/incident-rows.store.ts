import { findDefect } from '#canmaking/defects/taxonomy';
import type { AnswerOf, InputOf } from '#contract/endpoint';
import type { IncidentRow, listIncidents as contract } from '#contract/incidents';
import { Prisma } from '../platform/generated/client.js';
import type { Scope } from '../platform/scope.js';
import type { Tx } from '../platform/work.js';

type Filters = InputOf<typeof contract>['query'];
export type IncidentRecord = Omit<IncidentRow, 'defectName' | 'madeAt' | 'madeUntil' | 'receivedAt' | 'closedAt' | 'dueAt' | 'changedAt'> & { madeAt: Date; madeUntil: Date | null; receivedAt: Date; closedAt: Date | null; dueAt: Date | null; changedAt: Date };

export const defectName = (code: string): string => findDefect(code)?.name ?? code;
export const rowView = (row: IncidentRecord): IncidentRow => ({
  ...row, defectName: defectName(row.defect), madeAt: row.madeAt.toISOString(), madeUntil: row.madeUntil?.toISOString() ?? null, receivedAt: row.receivedAt.toISOString(), closedAt: row.closedAt?.toISOString() ?? null, dueAt: row.dueAt?.toISOString() ?? null, changedAt: row.changedAt.toISOString(),
});

/** An auditor's incidents: their customer complained, about a product that is theirs, in their span. One text with and without: the statement is named. */
const ofScope = ({ customer, from, until }: Partial<Scope>) => Prisma.sql`AND (${customer ?? null}::text IS NULL OR (i.customer = ${customer ?? null} AND i.received_at >= ${from ?? null}::timestamptz AND i.received_at < ${until ?? null}::timestamptz
  AND EXISTS (SELECT 1 FROM product own WHERE own.plant_id = i.plant_id AND own.id = i.product_id AND own.customer = ${customer ?? null})))`;

/** Those not closed first, then the newest; or the one with the id; or those whose next step was due before a moment, longest overdue first. */
export async function listIncidentRows(tx: Tx, plantId: number, filters: Filters, id: number | null = null, dueBefore: Date | null = null, scope: Scope | null = null): Promise<IncidentRow[]> {
  const rows = await tx.$queryRaw<IncidentRecord[]>`
    /* named: incident-rows */ SELECT i.id, i.kind, i.state, i.customer, i.product_id AS "productId", p.code AS product, p.name AS "productName", i.line_id AS "lineId", l.code AS line, l.name AS "lineName",
      i.can_code AS "canCode", i.made_at AS "madeAt", i.made_until AS "madeUntil", i.coded_at_step_id AS "codedAtStepId", (SELECT kind FROM step WHERE plant_id = i.plant_id AND id = i.coded_at_step_id) AS "codedAtStepKind",
      i.lane_id AS "laneId", (SELECT code FROM lane WHERE plant_id = i.plant_id AND id = i.lane_id) AS lane, i.unit_id AS "unitId", (SELECT code FROM unit WHERE plant_id = i.plant_id AND id = i.unit_id) AS unit,
      (SELECT m.code FROM unit u JOIN machine m ON m.plant_id = u.plant_id AND m.id = u.machine_id WHERE u.plant_id = i.plant_id AND u.id = i.unit_id) AS "unitMachine", i.received_at AS "receivedAt", i.closed_at AS "closedAt", i.due_at AS "dueAt", i.cause_category AS "causeCategory", i.cans_complained AS "cansComplained", i.cans_examined AS "cansExamined", i.cans_leaking AS "cansLeaking",
      i.leak_place AS "leakPlace", i.defect, i.description, i.revision, i.changed_at AS "changedAt",
      (SELECT count(*)::int FROM incident_photo f WHERE f.plant_id = i.plant_id AND f.incident_id = i.id AND f.removed_at IS NULL) AS photos,
      (SELECT count(*)::int FROM incident_signal s WHERE s.plant_id = i.plant_id AND s.incident_id = i.id) AS signals
    FROM incident i JOIN product p ON p.plant_id = i.plant_id AND p.id = i.product_id JOIN line l ON l.plant_id = i.plant_id AND l.id = i.line_id
    WHERE i.plant_id = ${plantId} ${ofScope(scope ?? {})} AND (${id}::int IS NULL OR i.id = ${id}) AND (${dueBefore}::timestamptz IS NULL OR (i.due_at < ${dueBefore} AND i.state <> 'closed'))
      AND (${filters.state ?? null}::text IS NULL OR i.state = ${filters.state ?? null} OR (${filters.state ?? null} = 'not-closed' AND i.state <> 'closed')) AND (${filters.customer ?? null}::text IS NULL OR i.customer = ${filters.customer ?? null})
      AND (${filters.defect ?? null}::text IS NULL OR i.defect = ${filters.defect ?? null}) AND (${filters.lineId ?? null}::int IS NULL OR i.line_id = ${filters.lineId ?? null})
    ORDER BY (i.state = 'closed'), CASE WHEN ${dueBefore}::timestamptz IS NULL THEN NULL ELSE i.due_at END, i.received_at DESC, i.id DESC LIMIT ${filters.take} OFFSET ${filters.skip}`;
  return rows.map(rowView);
}

type Group = { customer: string; defect: string; state: string; incidents: number; cans: number; fits: boolean };

/** The list's page with tallies of everything that the filters leave. */
export async function listIncidents(tx: Tx, plantId: number, filters: Filters, scope: Scope | null = null): Promise<AnswerOf<typeof contract>> {
  const rows = await listIncidentRows(tx, plantId, filters, null, null, scope);
  const groups = await tx.$queryRaw<Group[]>`
    SELECT customer, defect, state, count(*)::int AS incidents, sum(cans_complained)::float AS cans,
      (${filters.state ?? null}::text IS NULL OR state = ${filters.state ?? null} OR (${filters.state ?? null} = 'not-closed' AND state <> 'closed')) AND (${filters.customer ?? null}::text IS NULL OR customer = ${filters.customer ?? null})
        AND (${filters.defect ?? null}::text IS NULL OR defect = ${filters.defect ?? null}) AND (${filters.lineId ?? null}::int IS NULL OR line_id = ${filters.lineId ?? null}) AS fits
    FROM incident i WHERE i.plant_id = ${plantId} ${ofScope(scope ?? {})} GROUP BY customer, defect, state, fits`;
  const fitting = groups.filter(({ fits }) => fits);
  const sum = (some: readonly Group[]) => some.reduce((total, { incidents }) => total + incidents, 0);
  const tally = (keyOfGroup: (group: Group) => string, nameOf: (value: string) => string) => [...new Set(fitting.map(keyOfGroup))].map((value) => {
    const own = fitting.filter((group) => keyOfGroup(group) === value);
    return { value, name: nameOf(value), incidents: sum(own), cansComplained: own.reduce((total, { cans }) => total + cans, 0) };
  }).sort((a, b) => b.incidents - a.incidents || b.cansComplained - a.cansComplained || a.name.localeCompare(b.name));
  return {
    rows, total: sum(fitting), open: sum(fitting.filter(({ state }) => state !== 'closed')),
    byCustomer: tally(({ customer }) => customer, (value) => value), byDefect: tally(({ defect }) => defect, defectName),
    customers: [...new Set(groups.map(({ customer }) => customer))].sort(),
    defects: [...new Set(groups.map(({ defect }) => defect))].map((value) => ({ value, name: defectName(value) })).sort((a, b) => a.name.localeCompare(b.name)),
  };
}
