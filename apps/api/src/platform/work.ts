import pg from 'pg';
import { PrismaClient, type Prisma } from './generated/client.js';
import { namedRead, namedWithin, nameOf, poolOfReaders } from './named-statements.js';
import { notingAdapter, OwnConnection } from './own-connection.js';

declare const transaction: unique symbol;
/** A transaction in progress. The brand keeps the plain client out: every store function writes inside one. */
export type Tx = Prisma.TransactionClient & { readonly [transaction]: true };

/** The database as flows and reads see it. */
export class Work {
  readonly client: PrismaClient;
  private readonly pooled: boolean;
  private readonly pools: pg.Pool[];
  private readonly reading: Tx;

  /** At most so many connections, and a quarter more for reads that are planned once. `?pgbouncer=true` in the address: no named statements, which a pooler in transaction mode may not keep. */
  constructor(readonly databaseUrl: string, connections = 10) {
    this.pooled = /[?&]pgbouncer=true/.test(databaseUrl);
    const { pooled } = this;
    const most = Math.floor(connections / 4);
    const pool = new pg.Pool({ connectionString: databaseUrl, max: connections });
    const readers = pooled || most === 0 ? pool : poolOfReaders(databaseUrl, most);
    this.pools = [...new Set([pool, readers])];
    // A connection that ends while nobody uses it leaves the pool by itself; unheard, the event would end the program.
    for (const each of this.pools) each.on('error', () => {});
    this.client = new PrismaClient({ adapter: notingAdapter(pool, { statementNameGenerator: ({ sql }) => (pooled ? '' : nameOf(sql)) }) });
    this.reading = (pooled ? this.client : withRead(this.client, pool, readers)) as unknown as Tx;
  }

  /** One transaction a flow: all of `steps` or nothing. Times out after `timeoutMs` (default 20 s). */
  run<Answer>(steps: (tx: Tx) => Promise<Answer>, timeoutMs = 20_000): Promise<Answer> {
    return this.client.$transaction(async (tx) => {
      const own = this.pooled ? null : await OwnConnection.of(tx);
      return steps((own ? withOwn(tx, own) : tx) as Tx);
    }, { timeout: timeoutMs, maxWait: 10_000 });
  }

  /** The same acts inside a transaction that has begun: each `run` goes on in it, and all of them stand or fall with it. */
  within(tx: Tx): Work {
    return Object.create(this, { run: { value: <Answer>(steps: (inner: Tx) => Promise<Answer>) => steps(tx) }, read: { value: tx } }) as Work;
  }

  /** Reads that need no transaction of their own: each statement sees the last commit. */
  get read(): Tx {
    return this.reading;
  }

  async close(): Promise<void> {
    await this.client.$disconnect();
    for (const pool of this.pools) if (!pool.ending) await pool.end();
  }
}

/** The client whose `$queryRaw` takes the short way where there is one. */
function withRead(client: PrismaClient, pool: pg.Pool, readers: pg.Pool): PrismaClient {
  const $queryRaw = namedRead(pool, readers, (query, ...values) => client.$queryRaw(query, ...values));
  return new Proxy(client, { get: (target, key) => (key === '$queryRaw' ? $queryRaw : Reflect.get(target, key)) });
}

/** The same inside a transaction, for statements that read and that write. */
function withOwn(tx: Prisma.TransactionClient, own: OwnConnection): Prisma.TransactionClient {
  const { query, execute } = namedWithin(own, { query: (sql, ...values) => tx.$queryRaw(sql, ...values), execute: (sql, ...values) => tx.$executeRaw(sql, ...values) });
  return new Proxy(tx, { get: (target, key) => (key === '$queryRaw' ? query : key === '$executeRaw' ? execute : Reflect.get(target, key)) });
}
