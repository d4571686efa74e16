import type { AnswerOf } from '#contract/endpoint';
import type { listBodies } from '#contract/every-body';
import { Problem } from '#contract/problem';
import { csvCell } from '../platform/csv-cell.js';
import type { Tx } from '../platform/work.js';
import { type BodiesAsked, type BodyPlace, type BodyRow, findMeasured, listBodyMinutes } from './read-bodies.store.js';

/** Chunks keep moments as milliseconds of the minute less this (monitors.prisma). */
const HALF_MINUTE = 30_000;
const ROWS_AT_ONCE = 200;

/** @throws Problem not-found */
async function measuredOf(tx: Tx, plantId: number, { machine, characteristic }: BodiesAsked) {
  const measured = await findMeasured(tx, plantId, machine, characteristic);
  if (!measured) throw new Problem('not-found', `There is no machine ${machine}, or no characteristic ${characteristic}.`);
  return measured;
}

const placeOf = ({ minute, streamId, part }: BodyRow): BodyPlace => ({ minute: minute.getTime(), streamId, part });

/** One page of every-body readings, minute by minute. */
export async function bodiesPage(tx: Tx, plantId: number, asked: BodiesAsked & { after?: string | undefined; take: number }): Promise<AnswerOf<typeof listBodies>> {
  const measured = await measuredOf(tx, plantId, asked);
  const [minute = 0, streamId = 0, part = 0] = (asked.after ?? '').split('.').map(Number);
  const rows = await listBodyMinutes(tx, plantId, asked, asked.after === undefined ? null : { minute, streamId, part }, asked.take);
  const last = rows.length < asked.take ? undefined : rows.at(-1);
  return {
    ...measured, next: last ? `${last.minute.getTime()}.${last.streamId}.${last.part}` : null,
    minutes: rows.map(({ part: _part, offsets, minute: at, ...row }) => ({ ...row, minute: at.toISOString(), offsets: offsets.map((offset) => offset + HALF_MINUTE) })),
  };
}

/** The same as lines of CSV, a piece at a time, so that a month of readings needs no memory. */
export async function bodiesCsv(tx: Tx, plantId: number, asked: BodiesAsked): Promise<AsyncGenerator<string>> {
  const { machine, characteristic, measure } = await measuredOf(tx, plantId, asked);
  return (async function* pieces() {
    yield 'minute (UTC),milliseconds,body,value,unit of measure,machine,characteristic,product,unit,lane\r\n';
    for (let after: BodyPlace | null = null; ;) {
      const rows: BodyRow[] = await listBodyMinutes(tx, plantId, asked, after, ROWS_AT_ONCE);
      yield rows.map((row) => linesOf(row, [measure, machine, characteristic, row.product, row.unit ?? '', row.lane ?? ''].map(csvCell).join(','))).join('');
      const last = rows.at(-1);
      if (!last || rows.length < ROWS_AT_ONCE) return;
      after = placeOf(last);
    }
  })();
}

function linesOf({ minute, first, offsets, readings }: BodyRow, tail: string): string {
  const at = minute.toISOString();
  return readings.map((value, place) => (value === null ? '' : `${at},${first === null ? (offsets[place] ?? 0) + HALF_MINUTE : ''},${first === null ? '' : first + place},${value},${tail}\r\n`)).join('');
}
