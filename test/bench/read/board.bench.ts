import { type BenchRow, interleaved } from '../measure.js';
import type { BenchServer } from '../server.js';
import type { Filled } from './fill.js';

const TURNS = 40;
const LAST = 50;
/** What the board rests on, read by one statement: of each chart the newest subgroup and the open signals, of each machine the newest check and the newest count. */
const BARE_NOW = `SELECT l.code, m.code AS machine, s.id, g.taken_at, g.mean, g.limits_id, o.open, k.taken_at AS checked, n.at AS counted
  FROM stream s JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN step p ON p.plant_id = m.plant_id AND p.id = m.step_id JOIN line l ON l.plant_id = p.plant_id AND l.id = p.line_id
  LEFT JOIN LATERAL (SELECT taken_at, mean, limits_id FROM subgroup g WHERE g.plant_id = s.plant_id AND g.stream_id = s.id ORDER BY taken_at DESC, sequence DESC LIMIT 1) g ON true
  LEFT JOIN LATERAL (SELECT count(*) AS open FROM signal o WHERE o.plant_id = s.plant_id AND o.stream_id = s.id AND o.state <> 'closed') o ON true
  LEFT JOIN LATERAL (SELECT taken_at FROM "check" k WHERE k.plant_id = m.plant_id AND k.machine_id = m.id AND k.voided_at IS NULL ORDER BY taken_at DESC LIMIT 1) k ON true
  LEFT JOIN LATERAL (SELECT at FROM production_count n WHERE n.plant_id = m.plant_id AND n.machine_id = m.id ORDER BY at DESC LIMIT 1) n ON true
  WHERE s.plant_id = $1 ORDER BY l.position, p.position, s.id`;
const BARE_LAST = `SELECT s.id, g.taken_at, g.mean, g.limits_id FROM unnest($2::int[]) s(id)
  CROSS JOIN LATERAL (SELECT taken_at, mean, limits_id FROM subgroup g WHERE g.plant_id = $1 AND g.stream_id = s.id ORDER BY taken_at DESC, sequence DESC LIMIT ${LAST}) g`;

/** The Now board of ten lines with twelve charts each, and the newest points of all these charts by characteristic, each against a bare prepared query. */
export async function benchBoard({ sql, call, plantId }: BenchServer, { streams }: Filled): Promise<BenchRow[]> {
  const get = async (url: string) => {
    const answer = await call('GET', url);
    if (answer.status !== 200) throw new Error(`GET ${url}: ${answer.status} ${answer.text.slice(0, 300)}`);
    return answer.text;
  };
  const board = JSON.parse(await get('/api/now')) as { lines?: unknown[]; openSignals?: number };
  if (board.lines?.length !== 10 || !board.openSignals) throw new Error(`the board shows ${board.lines?.length} lines and ${board.openSignals} open signals`);
  const now = await interleaved(TURNS, 5,
    async () => { if ((await sql.query({ name: 'now', text: BARE_NOW, values: [plantId] })).rowCount !== streams.length) throw new Error('the bare query misses charts'); },
    async () => { await get('/api/now'); });
  const characteristics = [...new Set(streams.map(({ characteristic }) => characteristic))];
  const small = await interleaved(TURNS, 5,
    async () => {
      for (const characteristic of characteristics) {
        const ids = streams.flatMap((stream) => (stream.characteristic === characteristic ? [stream.id] : []));
        if ((await sql.query({ name: 'last', text: BARE_LAST, values: [plantId, ids] })).rowCount !== ids.length * LAST) throw new Error('the bare query misses points');
      }
    },
    async () => { for (const characteristic of characteristics) await get(`/api/charts/compare?characteristic=${characteristic}&last=${LAST}`); });
  return [
    { name: 'the Now board of 10 lines x 12 characteristics, to one bare prepared query of what it rests on', ratio: now.cost / now.base, aim: 3, detail: `${now.cost.toFixed(1)} ms to ${now.base.toFixed(1)} ms, p50 of ${TURNS}` },
    { name: `small charts of 10 lines x 12 characteristics, last ${LAST} each, in 12 answers, to 12 bare prepared queries`, ratio: small.cost / small.base, aim: 3, detail: `${small.cost.toFixed(1)} ms to ${small.base.toFixed(1)} ms, p50 of ${TURNS}` },
  ];
}
