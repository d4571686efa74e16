import { useDebouncedValue } from '@mantine/hooks';
import { useEffect, useState } from 'react';
import type { FixedLayout } from './guess-layout.js';
import type { ReadNews, ReadOrder } from './read.worker.js';
import type { DataTable, ReadFault } from './read-table.js';

/** While a changed text is read, `before` is the table of the former one. */
export type TableState = { state: 'empty' } | { state: 'reading'; share: number; before: DataTable | null } | { state: 'read'; table: DataTable; of: string } | { state: 'refused'; fault: ReadFault | { code: 'broken' } };

/** Off the main thread, so that a million values do not freeze the page; whoever asks anew ends what ran before. */
function inWorker(order: ReadOrder, hear: (news: ReadNews) => void): () => void {
  const worker = new Worker(new URL('./read.worker.ts', import.meta.url), { type: 'module' });
  worker.addEventListener('message', ({ data }: MessageEvent<ReadNews>) => hear(data));
  worker.addEventListener('error', () => hear({ broken: true }));
  worker.postMessage(order);
  return () => worker.terminate();
}

/** The table that a text holds, read anew a moment after the last change. */
export function useTable(text: string, fixed: FixedLayout): TableState {
  const [settled] = useDebouncedValue(text, 250);
  const { delimiter, decimal, header } = fixed;
  const [table, setTable] = useState<TableState>({ state: 'empty' });
  useEffect(() => {
    if (settled.trim() === '') { setTable({ state: 'empty' }); return undefined; }
    const reading = (share: number) => setTable((was) => ({ state: 'reading', share, before: was.state === 'read' ? was.table : was.state === 'reading' ? was.before : null }));
    reading(0);
    return inWorker({ text: settled, fixed: { delimiter, decimal, header } }, (news) => {
      if ('progress' in news) reading(news.progress);
      else if ('answer' in news) setTable('table' in news.answer ? { state: 'read', table: news.answer.table, of: settled } : { state: 'refused', fault: news.answer.fault });
      else if ('broken' in news) setTable({ state: 'refused', fault: { code: 'broken' } });
    });
  }, [settled, delimiter, decimal, header]);
  return table;
}

/** The largest file that is opened; beyond it no table of a million cells is. */
export const MOST_FILE_BYTES = 64 * 1024 * 1024;

/** What a chosen file says, as text. Spreadsheet files come as their first sheet. */
export async function readFile(file: File): Promise<{ text: string } | { fault: 'too-large' | 'no-sheet' | 'not-text' }> {
  if (file.size > MOST_FILE_BYTES) return { fault: 'too-large' };
  const bytes = await file.arrayBuffer();
  const [first, second] = new Uint8Array(bytes.slice(0, 2));
  // Spreadsheet files are zip archives, whatever they are called.
  if (first !== 0x50 || second !== 0x4b) {
    try { return { text: textOf(bytes) }; } catch { return { fault: 'not-text' }; }
  }
  return new Promise((resolve) => {
    const stop = inWorker({ sheet: bytes }, (news) => {
      if ('progress' in news) return;
      stop();
      resolve('sheetText' in news ? { text: news.sheetText } : { fault: 'no-sheet' });
    });
  });
}

/** UTF-8, UTF-16 by its mark, or else the western code page that older programs write. */
function textOf(bytes: ArrayBuffer): string {
  const [first, second] = new Uint8Array(bytes.slice(0, 2));
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff)) return new TextDecoder(first === 0xff ? 'utf-16le' : 'utf-16be').decode(bytes);
  if (new Uint8Array(bytes.slice(0, 100_000)).includes(0)) throw new RangeError('not a text file');
  try { return new TextDecoder('utf-8', { fatal: true }).decode(bytes); } catch { return new TextDecoder('windows-1252').decode(bytes); }
}
