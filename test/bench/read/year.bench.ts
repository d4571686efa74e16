import { type BenchRow, interleaved } from '../measure.js';
import type { BenchServer } from '../server.js';
import type { Filled } from './fill.js';

const TURNS = 40;

/** The chart of one stream for all its time through HTTP, against the bare prepared query for the same points. */
export async function benchYear({ sql, call, plantId }: BenchServer, { streams, from, to, subgroups }: Filled): Promise<BenchRow> {
  const streamOf = (turn: number) => streams[(turn * 37) % streams.length]?.id;
  const span = `from=${from.toISOString()}&to=${to.toISOString()}&last=20000`;
  const { base, cost } = await interleaved(TURNS, 5,
    async (turn) => {
      const answer = await sql.query({ name: 'year', text: 'SELECT taken_at, n, mean, range, sd FROM subgroup WHERE plant_id = $1 AND stream_id = $2 AND taken_at >= $3 AND taken_at <= $4 ORDER BY taken_at, sequence', values: [plantId, streamOf(turn), from, to] });
      if (answer.rowCount !== subgroups) throw new Error(`the bare query answered ${answer.rowCount} points`);
    },
    async (turn) => {
      const answer = await call('GET', `/api/charts/${streamOf(turn)}?${span}`);
      if (answer.status !== 200) throw new Error(`GET /api/charts: ${answer.status} ${answer.text.slice(0, 300)}`);
      if (turn === 0 && (JSON.parse(answer.text) as { points?: { mean?: unknown[] } }).points?.mean?.length !== subgroups) throw new Error(`the chart answer does not hold ${subgroups} points`);
    });
  return { name: `the chart answer of one stream with ${subgroups} subgroups, to the bare prepared query`, ratio: cost / base, aim: 3, detail: `${cost.toFixed(1)} ms to ${base.toFixed(1)} ms, p50 of ${TURNS}` };
}
