import { baselineLimits, type ChartKind } from '#statistics/charts/limits';
import type { SeedCharacteristic } from '../../../../../seed/plant-types.js';
import type { Tx } from '../../platform/work.js';

type Row = { stream_id: number; kind: ChartKind; formula: string | null; n: number; mean: number | null; range: number | null; sd: number | null };

/** Freezes the limits of every stream from its subgroups so far, and gives each stream the rules that its characteristic is watched with. */
export async function freezeDemoLimits(tx: Tx, plantId: number, characteristics: readonly SeedCharacteristic[], span: { from: Date; to: Date }, author: { id: number; reason: string }): Promise<number> {
  await tx.$executeRaw`
    UPDATE stream s SET rules = ARRAY(SELECT jsonb_array_elements_text(r.rules)) FROM jsonb_to_recordset(${JSON.stringify(characteristics.map(({ code, rules }) => ({ code, rules })))}::jsonb) AS r(code text, rules jsonb)
    JOIN characteristic c ON c.plant_id = ${plantId} AND c.code = r.code WHERE s.plant_id = ${plantId} AND s.characteristic_id = c.id`;
  const rows = await tx.$queryRaw<Row[]>`
    SELECT g.stream_id, s.chart_kind AS kind, g.formula, g.n, g.mean, g.range, g.sd FROM subgroup g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id
    WHERE g.plant_id = ${plantId} AND g.taken_at BETWEEN ${span.from} AND ${span.to} ORDER BY g.stream_id, g.taken_at, g.sequence`;
  const streams = new Map<number, Row[]>();
  for (const row of rows) {
    const points = streams.get(row.stream_id);
    if (points) points.push(row);
    else streams.set(row.stream_id, [row]);
  }
  const frozen = [...streams].map(([streamId, points]) => {
    const first = points[0] as Row;
    const basis = baselineLimits(first.kind, points.map((point) => ({ ...point, low: null, high: null })));
    return { ...basis, streamId, formula: first.formula };
  });
  await tx.limits.createMany({ data: frozen.map((limits) => ({ plantId, ...limits, baselineFrom: span.from, baselineTo: span.to, effectiveFrom: span.to, authorId: author.id, reason: author.reason, createdAt: span.to })) });
  return frozen.length;
}
