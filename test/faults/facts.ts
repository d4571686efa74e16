import pg from 'pg';
import { chartView } from '#contract/specifications';
import type { Installation } from './installation.js';

/** What an installation holds, in words without ids (two runs number differently), one line a fact, by kind. */
export type Facts = Record<string, string[]>;

const STREAM = "concat_ws(' ', m.code, u.code, l.code, c.code, p.code)";
const JOINS = (of: string) => `JOIN stream s ON s.plant_id = ${of}.plant_id AND s.id = ${of}.stream_id JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id
  JOIN product p ON p.plant_id = s.plant_id AND p.id = s.product_id LEFT JOIN unit u ON u.plant_id = s.plant_id AND u.id = s.unit_id LEFT JOIN lane l ON l.plant_id = s.plant_id AND l.id = s.lane_id`;
const QUESTIONS: Record<string, string> = {
  checks: 'SELECT to_jsonb(k) - \'{plant_id,id,entered_at}\'::text[] AS fact FROM "check" k',
  subgroups: `SELECT jsonb_build_array(${STREAM}, g.taken_at, g.sequence, k.key, g.cans, g.readings, g.n, g.mean, g.range, g.sd, g.low, g.high, g.formula, f.effective_from, f.centre, f.sigma) AS fact
    FROM subgroup g ${JOINS('g')} JOIN "check" k ON k.plant_id = g.plant_id AND k.id = g.check_id LEFT JOIN limits f ON f.plant_id = g.plant_id AND f.id = g.limits_id`,
  signals: `SELECT jsonb_build_array(${STREAM}, g.chart, g.rule, g.side, g.fired_at, g.first_at, g.last_good_at, g.last_at, g.firings, g.state, jsonb_path_query_array(g.seen, '$.points'),
      (SELECT jsonb_agg(jsonb_build_array(t.actor, t.action, t.comment) ORDER BY t.id) FROM signal_step t WHERE t.plant_id = g.plant_id AND t.signal_id = g.id)) AS fact FROM signal g ${JOINS('g')}`,
  'signal points': `SELECT jsonb_build_array(${STREAM}, g.taken_at, g.sequence, g.chart, g.rule, g.side, sg.fired_at) AS fact FROM signal_point g ${JOINS('g')} JOIN signal sg ON sg.plant_id = g.plant_id AND sg.id = g.signal_id`,
  'seals of checks': `SELECT jsonb_build_array(k.key, count(*)) AS fact FROM audit_row a CROSS JOIN LATERAL jsonb_object_keys(a.after->'seals') AS seal(id) JOIN "check" k ON k.plant_id = a.plant_id AND k.id = seal.id::int WHERE a.action = 'readings.recorded' AND k.source <> 'monitor' GROUP BY k.key`,
  // How many messages of a monitor make one act depends on when they come: its acts are not counted, what they brought is.
  'audit rows': "SELECT jsonb_build_array(a.action, count(*)) AS fact FROM audit_row a WHERE a.after->>'source' IS DISTINCT FROM 'monitor' GROUP BY a.action",
  'every-body chunks': `SELECT jsonb_build_array(${STREAM}, g.minute, g.part, g.n, g.mean, g.range, g.sd, g.low, g.high, g.first_count, g.last_count, g.readings) AS fact FROM body_chunk g ${JOINS('g')}`,
};

export async function factsOf(installation: Installation): Promise<Facts> {
  const client = new pg.Client({ connectionString: await installation.databaseUrl() });
  await client.connect();
  try {
    const facts: Facts = {};
    for (const [kind, question] of Object.entries(QUESTIONS)) facts[kind] = (await client.query<{ fact: string }>(`SELECT q.fact::text AS fact FROM (${question}) q ORDER BY 1`)).rows.map(({ fact }) => fact);
    const { rows } = await client.query<{ id: number; name: string }>(`SELECT s0.id, ${STREAM} AS name FROM (SELECT plant_id, id AS stream_id, id FROM stream) s0 ${JOINS('s0')} ORDER BY 2`);
    facts['charts'] = await Promise.all(rows.map(async ({ id, name }) => `${name}: ${await chartOf(installation, id)}`));
    return facts;
  } finally {
    await client.end();
  }
}

/** The chart as a person gets it, ids taken out. */
async function chartOf(installation: Installation, streamId: number): Promise<string> {
  const answer = await fetch(`${installation.url}/api/charts/${streamId}?last=20000`, { headers: { cookie: `seamledger_session=${installation.session}` } });
  const { stream, points, older, firings, limits, events } = chartView.parse(await answer.json());
  return JSON.stringify({
    revision: stream.lane?.code === 'B' ? null : stream.revision, rules: stream.rules, older, events, points: { ...points, limitsId: points.limitsId.map((id) => limits.findIndex((entry) => entry.id === id)) },
    firings: firings.map(({ signalId: _id, ...firing }) => firing), limits: limits.map(({ id: _id, createdAt: _at, ...entry }) => entry),
  });
}

/** The first few differences of each kind, in words; empty where both hold the same. */
export function differences(faulted: Facts, quiet: Facts): string[] {
  return Object.keys(quiet).flatMap((kind) => {
    const [mine, theirs] = [faulted[kind] ?? [], quiet[kind] ?? []];
    const [known, wanted] = [new Set(mine), new Set(theirs)];
    const missing = theirs.filter((fact) => !known.has(fact));
    const extra = mine.filter((fact) => !wanted.has(fact));
    const count = mine.length === theirs.length ? [] : [`${kind}: ${mine.length} with faults, ${theirs.length} without`];
    return [...count, ...missing.slice(0, 2).map((fact) => `${kind}: missing with faults: ${fact.slice(0, 600)}`), ...extra.slice(0, 2).map((fact) => `${kind}: only with faults: ${fact.slice(0, 600)}`)];
  });
}

/** Keys that were acknowledged and are not stored under the acknowledged id. */
export async function lostKeys(installation: Installation, acknowledged: ReadonlyMap<string, number>): Promise<string[]> {
  const client = new pg.Client({ connectionString: await installation.databaseUrl() });
  await client.connect();
  try {
    const { rows } = await client.query<{ key: string; id: number }>('SELECT key, id FROM "check" WHERE voided_at IS NULL');
    const stored = new Map(rows.map(({ key, id }) => [key, id]));
    return [...acknowledged].filter(([key, id]) => stored.get(key) !== id).map(([key, id]) => `${key} (check ${id})`);
  } finally {
    await client.end();
  }
}

/** Waits until nothing waits in the outbox; answers rows that still do, with their error. */
export async function undelivered(installation: Installation): Promise<string[]> {
  const client = new pg.Client({ connectionString: await installation.databaseUrl() });
  await client.connect();
  try {
    for (let wait = 0; ; wait += 1) {
      const { rows } = await client.query<{ kind: string; error: string | null }>('SELECT kind, error FROM outbox_row WHERE done_at IS NULL LIMIT 20');
      if (rows.length === 0 || wait === 600) return rows.map(({ kind, error }) => `${kind}: ${error ?? 'not tried'}`);
      await new Promise((resolve) => { setTimeout(resolve, 200); });
    }
  } finally {
    await client.end();
  }
}
