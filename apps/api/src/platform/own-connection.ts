import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { Prisma } from './generated/client.js';

const ENDING = /^(?:COMMIT|ROLLBACK)$/;
const asking = new Map<number, OwnConnection>();
let last = 0;

/** The connection of one transaction, for what is said to it past Prisma; for nothing more when the transaction ends, in time or not. */
export class OwnConnection {
  private ended = false;

  private constructor(private client: pg.Client | null) {}

  /**
   * The connection of this transaction of a client with `notingAdapter`; null where it cannot be known. Prisma does not tell: the adapter
   * is asked by a statement that it does not pass on. (The language's own way to follow a call slows down every promise of the program in Node.js 20.)
   */
  static async of(tx: Pick<Prisma.TransactionClient, '$executeRaw'>): Promise<OwnConnection | null> {
    const [own, id] = [new OwnConnection(null), ++last];
    asking.set(id, own);
    try {
      await tx.$executeRaw`own connection ${id}`;
    } finally {
      asking.delete(id);
    }
    return own.client === null ? null : own;
  }

  take(client: unknown): void {
    if (client instanceof pg.Client) this.client = client;
  }

  end(): void {
    this.ended = true;
  }

  /** @throws Error with Prisma's code P2028 when the transaction has ended: the connection may be somebody else's by now */
  async query(ask: pg.QueryConfig): Promise<pg.QueryResult<pg.QueryResultRow>> {
    if (this.ended || this.client === null) throw Object.assign(new Error('The transaction has ended, perhaps since it took too long.'), { code: 'P2028' });
    return this.client.query<pg.QueryResultRow>(ask);
  }
}

/** Prisma's adapter, which says on being asked which connection a transaction has, and tells it of its end. */
export function notingAdapter(...given: ConstructorParameters<typeof PrismaPg>): PrismaPg {
  const factory = new PrismaPg(...given);
  const connect = factory.connect.bind(factory);
  factory.connect = async () => {
    const adapter = await connect();
    const start = adapter.startTransaction.bind(adapter);
    adapter.startTransaction = async (level) => noting(await start(level));
    return adapter;
  };
  return factory;
}

type Transaction = Awaited<ReturnType<Awaited<ReturnType<PrismaPg['connect']>>['startTransaction']>>;

function noting(transaction: Transaction): Transaction {
  let own: OwnConnection | undefined;
  const execute = transaction.executeRaw.bind(transaction);
  transaction.executeRaw = async (query) => {
    if (query.sql === 'own connection $1') {
      own = asking.get(Number(query.args[0]));
      own?.take(Reflect.get(transaction, 'client'));
      return 0;
    }
    // Before it is sent: what is said afterwards would stand outside the transaction.
    if (ENDING.test(query.sql)) own?.end();
    return execute(query);
  };
  for (const way of ['commit', 'rollback'] as const) {
    const release = transaction[way].bind(transaction);
    transaction[way] = () => {
      own?.end();
      return release();
    };
  }
  return transaction;
}
