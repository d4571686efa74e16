import type { FixedLayout } from './guess-layout.js';
import { type ReadAnswer, readTable } from './read-table.js';

export type ReadOrder = { text: string; fixed: FixedLayout } | { sheet: ArrayBuffer };
export type ReadNews = { progress: number } | { answer: ReadAnswer } | { sheetText: string } | { broken: true };

const tell = (news: ReadNews) => self.postMessage(news);

// One order a worker: whoever loses interest ends it.
self.addEventListener('message', ({ data }: MessageEvent<ReadOrder>) => {
  if ('sheet' in data) {
    import('./read-sheet.js').then(({ sheetText }) => sheetText(data.sheet)).then((text) => tell({ sheetText: text }), () => tell({ answer: { fault: { code: 'no-sheet' } } }));
    return;
  }
  try { tell({ answer: readTable(data.text, data.fixed, (progress) => tell({ progress })) }); } catch { tell({ broken: true }); }
});
