import type { StreamListed } from '#contract/specifications';
import { Prisma } from '../platform/generated/client.js';
import type { Scope } from '../platform/scope.js';
import type { Tx } from '../platform/work.js';
import { isoText, streamJoins, streamJson, streamOrder } from './stream-names.store.js';

export type StreamFilter = { line?: number; machine?: number; product?: number; characteristic?: number; unit?: number };

/** Streams of the plant in the order of the line; an auditor's are those of their products, with what lies in their span. The last subgroup is looked up at the end of the key, not by counting. */
export async function listStreams(tx: Tx, plantId: number, filter: StreamFilter, scope: Scope | null = null, most = 5000): Promise<StreamListed[]> {
  const { line = null, machine = null, product = null, characteristic = null, unit = null } = filter;
  const { customer = null, from = null, until = null } = scope ?? {};
  const rows = await tx.$queryRaw<{ stream: Omit<StreamListed, 'lastAt' | 'hasLimits' | 'openSignals'>; last_at: string | null; has_limits: boolean; open_signals: number }[]>`
    /* named: stream-list */ SELECT ${streamJson} AS stream,
      (SELECT ${isoText(Prisma.sql`g.taken_at`)} FROM subgroup g WHERE g.plant_id = s.plant_id AND g.stream_id = s.id AND (${from}::timestamptz IS NULL OR g.taken_at >= ${from}) AND (${until}::timestamptz IS NULL OR g.taken_at < ${until}) ORDER BY g.taken_at DESC LIMIT 1) AS last_at,
      EXISTS (SELECT 1 FROM limits li WHERE li.plant_id = s.plant_id AND li.stream_id = s.id) AS has_limits,
      (SELECT count(*)::int FROM signal sg WHERE sg.plant_id = s.plant_id AND sg.stream_id = s.id AND sg.state <> 'closed' AND (${from}::timestamptz IS NULL OR sg.first_at >= ${from}) AND (${until}::timestamptz IS NULL OR sg.last_at < ${until})) AS open_signals
    FROM stream s ${streamJoins}
    WHERE s.plant_id = ${plantId} AND (${line}::int IS NULL OR l.id = ${line}) AND (${machine}::int IS NULL OR s.machine_id = ${machine}) AND (${product}::int IS NULL OR s.product_id = ${product})
      AND (${characteristic}::int IS NULL OR s.characteristic_id = ${characteristic}) AND (${unit}::int IS NULL OR s.unit_id = ${unit})
      AND (${customer}::text IS NULL OR EXISTS (SELECT 1 FROM product own WHERE own.plant_id = s.plant_id AND own.id = s.product_id AND own.customer = ${customer}))
    ORDER BY ${streamOrder} LIMIT ${most}`;
  return rows.map(({ stream, last_at, has_limits, open_signals }) => ({ ...stream, lastAt: last_at, hasLimits: has_limits, openSignals: open_signals }));
}
