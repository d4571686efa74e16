import type { ScopedThing } from '#contract/endpoint';
import { Prisma } from './generated/client.js';
import type { Scope } from './scope.js';
import type { Tx } from './work.js';

const ofStream = Prisma.sql`JOIN stream s ON s.plant_id = x.plant_id AND s.id = x.stream_id JOIN product p ON p.plant_id = s.plant_id AND p.id = s.product_id`;
const ofProduct = Prisma.sql`JOIN product p ON p.plant_id = x.plant_id AND p.id = x.product_id`;

/** Where each thing lies, its product `p`, and when it counts. A signal counts with the whole of its pattern. */
const places: Record<ScopedThing, (scope: Scope) => { from: Prisma.Sql; when: Prisma.Sql }> = {
  product: () => ({ from: Prisma.sql`product x JOIN product p ON p.plant_id = x.plant_id AND p.id = x.id`, when: Prisma.sql`true` }),
  stream: () => ({ from: Prisma.sql`stream x ${ofProduct}`, when: Prisma.sql`true` }),
  check: ({ from, until }) => ({ from: Prisma.sql`"check" x ${ofProduct}`, when: Prisma.sql`x.taken_at >= ${from} AND x.taken_at < ${until}` }),
  limits: ({ until }) => ({ from: Prisma.sql`limits x ${ofStream}`, when: Prisma.sql`x.effective_from < ${until}` }),
  specification: ({ until }) => ({ from: Prisma.sql`specification x ${ofProduct}`, when: Prisma.sql`x.effective_from < ${until}` }),
  signal: ({ from, until }) => ({ from: Prisma.sql`signal x ${ofStream}`, when: Prisma.sql`x.first_at >= ${from} AND x.last_at < ${until}` }),
  incident: (scope) => ({ from: Prisma.sql`incident x ${ofProduct}`, when: Prisma.sql`x.customer = ${scope.customer} AND x.received_at >= ${scope.from} AND x.received_at < ${scope.until}` }),
  pack: ({ from, until }) => ({ from: Prisma.sql`pack x JOIN LATERAL (SELECT x.customer) p ON true`, when: Prisma.sql`x.period_from >= ${from} AND x.period_to <= ${until}` }),
};

export async function isInScope(tx: Tx, plantId: number, scope: Scope, thing: ScopedThing, id: number): Promise<boolean> {
  return (await idsInScope(tx, plantId, scope, thing, [id])).has(id);
}

/** Which of these are the auditor's. */
export async function idsInScope(tx: Tx, plantId: number, scope: Scope, thing: ScopedThing, ids: readonly number[]): Promise<Set<number>> {
  if (ids.length === 0) return new Set();
  const { from, when } = places[thing](scope);
  const rows = await tx.$queryRaw<{ id: number }[]>`SELECT x.id FROM ${from} WHERE x.plant_id = ${plantId} AND x.id = ANY(${[...ids]}::int[]) AND p.customer = ${scope.customer} AND ${when}`;
  return new Set(rows.map((row) => row.id));
}
