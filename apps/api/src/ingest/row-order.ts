import type { Layout } from '#contract/ingest';
import type { RowMapper } from './map-rows.js';

/**
 * How many checks a table holds whose rows stand together check by check, in order of time: each check can then be judged while
 * the rest is still being read. Null: the rows are in another order, or only the parser can tell what a cell is.
 */
export function countChecksInOrder(text: string, { separator }: Pick<Layout, 'separator'>, mapper: RowMapper): number | null {
  if (text.includes('"')) return null;
  const wanted = mapper.momentColumns();
  const last = Math.max(-1, ...wanted);
  const seen = new Set<string>();
  let [begin, before, key, latest] = ['', '', '', ''];
  for (let at = text.indexOf('\n') + 1, end = 0; at > 0 && at < text.length; at = end + 1) {
    end = text.indexOf('\n', at);
    if (end < 0) end = text.length;
    // The next row of a check often begins as the one before does.
    if (begin !== '' && text.startsWith(begin, at)) continue;
    const { cells, stop } = cellsUpTo(text, at, end, separator, wanted, last);
    begin = text.slice(at, stop + 1);
    const written = cells.join('\n');
    if (written === before) continue;
    before = written;
    const moment = mapper.momentOf(cells);
    if (moment === null || moment.key === key) continue;
    if (seen.has(moment.key) || moment.takenAt < latest) return null;
    seen.add(moment.key);
    [key, latest] = [moment.key, moment.takenAt];
  }
  return seen.size === 0 ? null : seen.size;
}

/** The cells at the places that are wanted, the others empty, and where the last of them ends: of a million cells most are readings, which order nothing. */
function cellsUpTo(text: string, from: number, end: number, separator: string, wanted: ReadonlySet<number>, last: number): { cells: string[]; stop: number } {
  const cells: string[] = [];
  let stop = from;
  for (let at = from, place = 0; place <= last; place += 1) {
    stop = text.indexOf(separator, at);
    if (stop < 0 || stop > end) stop = end;
    cells.push(wanted.has(place) ? text.slice(at, stop) : '');
    if (stop === end) break;
    at = stop + 1;
  }
  return { cells, stop };
}
