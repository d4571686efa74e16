import type { StreamListed } from '#contract/specifications';
import { Prisma } from '../platform/generated/client.js';
import type { Scope } from '../platform/scope.js';
import type { Tx } from '../platform/work.js';
import { isoText, streamJoins, streamJson, streamOrder } from './stream-names.store.js';

export type StreamFilter = { line?: number; machine?: number; product?: number; characteristic?: number; unit?: number };

/** Streams of the plant in the order of the line; an auditor's are those of their products, with what lies in their span. The last subgroup is looked up at the end of the key, not by counting. */
export async function listStreams(tx: Tx, plantId: number, filter: StreamFilter, scope: Scope | null = null, most = 5000): Promise<StreamListed[]> {
  const wanted = [
    filter.line === undefined ? [] : [Prisma.sql`AND l.id = ${filter.line}`],
    filter.machine === undefined ? [] : [Prisma.sql`AND s.machine_id = ${filter.machine}`],
    filter.product === undefined ? [] : [Prisma.sql`AND s.product_id = ${filter.product}`],
    filter.characteristic === undefined ? [] : [Prisma.sql`AND s.characteristic_id = ${filter.characteristic}`],
    filter.unit === undefined ? [] : [Prisma.sql`AND s.unit_id = ${filter.unit}`],
    scope === null ? [] : [Prisma.sql`AND EXISTS (SELECT 1 FROM product own WHERE own.plant_id = s.plant_id AND own.id = s.product_id AND own.customer = ${scope.customer})`],
  ].flat();
  const [inSpan, inSpanOfSignal] = scope === null ? [Prisma.empty, Prisma.empty] : [Prisma.sql`AND g.taken_at >= ${scope.from} AND g.taken_at < ${scope.until}`, Prisma.sql`AND sg.first_at >= ${scope.from} AND sg.last_at < ${scope.until}`];
  const rows = await tx.$queryRaw<{ stream: Omit<StreamListed, 'lastAt' | 'hasLimits' | 'openSignals'>; last_at: string | null; has_limits: boolean; open_signals: number }[]>`
    SELECT ${streamJson} AS stream,
      (SELECT ${isoText(Prisma.sql`g.taken_at`)} FROM subgroup g WHERE g.plant_id = s.plant_id AND g.stream_id = s.id ${inSpan} ORDER BY g.taken_at DESC LIMIT 1) AS last_at,
      EXISTS (SELECT 1 FROM limits li WHERE li.plant_id = s.plant_id AND li.stream_id = s.id) AS has_limits,
      (SELECT count(*)::int FROM signal sg WHERE sg.plant_id = s.plant_id AND sg.stream_id = s.id AND sg.state <> 'closed' ${inSpanOfSignal}) AS open_signals
    FROM stream s ${streamJoins}
    WHERE s.plant_id = ${plantId} ${wanted.length > 0 ? Prisma.join(wanted, ' ') : Prisma.empty}
    ORDER BY ${streamOrder} LIMIT ${most}`;
  return rows.map(({ stream, last_at, has_limits, open_signals }) => ({ ...stream, lastAt: last_at, hasLimits: has_limits, openSignals: open_signals }));
}
