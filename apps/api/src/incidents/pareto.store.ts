import type { AnswerOf, InputOf } from '#contract/endpoint';
import type { getIncidentPareto as contract } from '#contract/incident-life';
import type { Tx } from '../platform/work.js';
import { defectName } from './incident-rows.store.js';

type Query = InputOf<typeof contract>['query'];
export type ParetoGroup = { value: string | null; name: string | null; incidents: number; cansComplained: number };

/** Incidents that the filters leave, counted by one property; null where it is not known. */
export async function listParetoGroups(tx: Tx, plantId: number, { by, ...filters }: Query): Promise<ParetoGroup[]> {
  const [from, to, kind, customer, defect, lineId] = [filters.from ?? null, filters.to ?? null, filters.kind ?? null, filters.customer ?? null, filters.defect ?? null, filters.lineId ?? null];
  const rows = await tx.$queryRaw<ParetoGroup[]>`
    WITH told AS (
      SELECT i.cans_complained, m.name AS machine_name,
        CASE ${by} WHEN 'customer' THEN i.customer WHEN 'defect' THEN i.defect WHEN 'machine' THEN m.code WHEN 'category' THEN i.cause_category
          ELSE to_char(i.received_at AT TIME ZONE p.time_zone, 'YYYY-MM') END AS value
      FROM incident i JOIN plant p ON p.id = i.plant_id LEFT JOIN machine m ON m.plant_id = i.plant_id AND m.id = i.cause_machine_id
      WHERE i.plant_id = ${plantId} AND (${from}::timestamptz IS NULL OR i.received_at >= ${from}::timestamptz) AND (${to}::timestamptz IS NULL OR i.received_at < ${to}::timestamptz)
        AND (${kind}::text IS NULL OR i.kind = ${kind}) AND (${customer}::text IS NULL OR i.customer = ${customer}) AND (${defect}::text IS NULL OR i.defect = ${defect}) AND (${lineId}::int IS NULL OR i.line_id = ${lineId}))
    SELECT value, max(CASE WHEN ${by} = 'machine' THEN machine_name END) AS name, count(*)::int AS incidents, coalesce(sum(cans_complained), 0)::float8 AS "cansComplained" FROM told GROUP BY value`;
  return rows.map((row) => ({ ...row, name: by === 'defect' && row.value !== null ? defectName(row.value) : row.name }));
}

/** What the filters can be set to: every customer and line that has an incident. */
export async function listParetoChoices(tx: Tx, plantId: number): Promise<Pick<AnswerOf<typeof contract>, 'customers' | 'lines'>> {
  const customers = await tx.incident.findMany({ where: { plantId }, distinct: ['customer'], select: { customer: true }, orderBy: { customer: 'asc' } });
  const lines = await tx.line.findMany({ where: { plantId, incidents: { some: {} } }, select: { id: true, code: true, name: true }, orderBy: { position: 'asc' } });
  return { customers: customers.map(({ customer }) => customer), lines };
}
