import type { SimulatedCount, SimulatedLineEvent } from '../../../../../seed/simulated.js';
import type { Tx } from '../../platform/work.js';
import { type DemoIds, need } from './demo-master.store.js';

const TAKE = 5000;
const slices = <Item>(items: readonly Item[]): Item[][] => Array.from({ length: Math.ceil(items.length / TAKE) }, (_, index) => items.slice(index * TAKE, (index + 1) * TAKE));
const iso = (ms: number | undefined) => (ms === undefined ? null : new Date(ms).toISOString());

/** The log book of the line. */
export async function insertDemoEvents(tx: Tx, ids: DemoIds, events: readonly SimulatedLineEvent[], names: ReadonlyMap<string, string>): Promise<void> {
  for (const slice of slices(events)) {
    const rows = slice.map((event) => ({ lineId: need(ids.lines, event.lineCode), machineId: event.machineCode === null ? null : need(ids.machines, event.machineCode), kind: event.kind, at: iso(event.at), until: iso(event.until), text: event.text, actor: names.get(event.by) ?? event.by }));
    await tx.$executeRaw`
      INSERT INTO line_event (plant_id, line_id, machine_id, kind, at, until, text, actor, entered_at)
      SELECT ${ids.plantId}, e."lineId", e."machineId", e.kind, e.at, e.until, e.text, e.actor, coalesce(e.until, e.at)
      FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS e("lineId" int, "machineId" int, kind text, at timestamptz, until timestamptz, text text, actor text)`;
  }
}

/** Production counts, by arrays: some two hundred thousand rows. */
export async function insertDemoCounts(tx: Tx, ids: DemoIds, counts: readonly SimulatedCount[]): Promise<void> {
  for (const slice of slices(counts)) {
    await tx.$executeRaw`
      INSERT INTO production_count (plant_id, machine_id, at, minutes, good, rejected)
      SELECT ${ids.plantId}, machine_id, to_timestamp(at_ms / 1000.0), minutes, good, rejected
      FROM unnest(${slice.map((row) => need(ids.machines, row.machineCode))}::int[], ${slice.map((row) => row.at)}::float8[], ${slice.map((row) => row.minutes)}::float8[], ${slice.map((row) => row.good)}::int[], ${slice.map((row) => row.rejected)}::int[]) AS c(machine_id, at_ms, minutes, good, rejected)`;
  }
}
