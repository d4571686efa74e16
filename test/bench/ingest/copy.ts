import pg from 'pg';
import { Work } from '../../../apps/api/src/platform/work.js';
import { makeBodyMonths, upsertChunks } from '../../../apps/api/src/monitors/body-chunks.store.js';
import type { ChunkRow } from '../../../apps/api/src/monitors/minute-book.js';
import { median } from '../measure.js';

const [STREAMS, BODIES, TURNS] = [300, 650, 5];

/** COPY of text over the driver's own connection, with what the driver offers. */
class CopyIn {
  constructor(private readonly table: string, private readonly text: string, private readonly done: (error: Error | null) => void) {}
  submit(connection: { query(text: string): void }): void { connection.query(`COPY ${this.table} FROM STDIN`); }
  handleCopyInResponse(connection: { sendCopyFromChunk(chunk: Buffer): void; endCopyFrom(): void }): void { connection.sendCopyFromChunk(Buffer.from(this.text)); connection.endCopyFrom(); }
  handleCommandComplete(): void {}
  handleReadyForQuery(): void { this.done(null); }
  handleError(error: Error): void { this.done(error); }
}

/** The chunks of one minute by the array insert that the feeds use, and the same rows by COPY, alternately. */
export async function benchCopy(url: string): Promise<string> {
  const work = new Work(url, 2);
  const sql = new pg.Client({ connectionString: url });
  await sql.connect();
  try {
    const { rows: [plant] } = await sql.query<{ id: number }>('SELECT min(id) AS id FROM plant');
    const { rows: streams } = await sql.query<{ id: number }>('SELECT id FROM stream ORDER BY id LIMIT $1', [STREAMS]);
    const rows = (turn: number): ChunkRow[] => streams.map(({ id }) => ({ streamId: id, minute: Date.UTC(2020, 0, 1, 0, turn), part: 0, n: BODIES, mean: 0.42, range: 0.06, sd: 0.01, low: 0.39, high: 0.45, firstCount: 1, lastCount: BODIES, offsets: [], readings: Array.from({ length: BODIES }, (_, index) => 0.39 + ((index * 7919 + id) % 61) / 1000) }));
    const times: Record<'insert' | 'copy', number[]> = { insert: [], copy: [] };
    await work.run((tx) => makeBodyMonths(tx, [new Date(Date.UTC(2020, 0, 1))]));
    for (let turn = 0; turn < TURNS * 2 + 2; turn += 1) {
      const given = rows(turn);
      const began = performance.now();
      if (turn % 2 === 0) await work.run((tx) => upsertChunks(tx, plant?.id ?? 1, given));
      else {
        const text = given.map((row) => `${plant?.id}\t${row.streamId}\t${new Date(row.minute).toISOString()}\t${row.part}\t${row.n}\t${row.mean}\t${row.range}\t${row.sd}\t${row.low}\t${row.high}\t${row.firstCount}\t${row.lastCount}\t{}\t{${row.readings.join(',')}}\n`).join('');
        await new Promise<void>((resolve, reject) => { sql.query(new CopyIn('body_chunk', text, (error) => (error ? reject(error) : resolve())) as unknown as pg.Submittable); });
      }
      if (turn >= 2) times[turn % 2 === 0 ? 'insert' : 'copy'].push(performance.now() - began);
    }
    const [insert, copy] = [median(times.insert), median(times.copy)];
    return `${streams.length} chunks of ${BODIES} readings: array insert ${insert.toFixed(0)} ms, COPY ${copy.toFixed(0)} ms, ratio ${(insert / copy).toFixed(2)} (medians of ${TURNS}). The feeds insert: COPY knows no ON CONFLICT, and a late body must find its minute again.`;
  } finally {
    await sql.end();
    await work.close();
  }
}
