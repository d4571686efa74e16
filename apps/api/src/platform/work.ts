import { PrismaPg } from '@prisma/adapter-pg';
import { PrismaClient, type Prisma } from './generated/client.js';

declare const transaction: unique symbol;
/** A transaction in progress. The brand keeps the plain client out: every store function writes inside one. */
export type Tx = Prisma.TransactionClient & { readonly [transaction]: true };

/** A statement that begins with this comment is planned once a connection: for long ones that are asked often. Its text must always be the same. */
const NAMED = /^\s*\/\* named: ([a-z-]+) \*\//;

/** The database as flows and reads see it. */
export class Work {
  readonly client: PrismaClient;

  /** `?pgbouncer=true` in the address: no named statements, which a pooler in transaction mode may not keep. */
  constructor(readonly databaseUrl: string, connections = 10) {
    const pooled = /[?&]pgbouncer=true/.test(databaseUrl);
    this.client = new PrismaClient({ adapter: new PrismaPg({ connectionString: databaseUrl, max: connections }, { statementNameGenerator: ({ sql }) => (pooled ? '' : NAMED.exec(sql)?.[1] ?? '') }) });
  }

  /** One transaction a flow: all of `steps` or nothing. Times out after `timeoutMs` (default 20 s). */
  run<Answer>(steps: (tx: Tx) => Promise<Answer>, timeoutMs = 20_000): Promise<Answer> {
    return this.client.$transaction((tx) => steps(tx as Tx), { timeout: timeoutMs, maxWait: 10_000 });
  }

  /** The same acts inside a transaction that has begun: each `run` goes on in it, and all of them stand or fall with it. */
  within(tx: Tx): Work {
    return Object.create(this, { run: { value: <Answer>(steps: (inner: Tx) => Promise<Answer>) => steps(tx) }, read: { value: tx } }) as Work;
  }

  /** Reads that need no transaction of their own: each statement sees the last commit. */
  get read(): Tx {
    return this.client as unknown as Tx;
  }

  close(): Promise<void> {
    return this.client.$disconnect();
  }
}
