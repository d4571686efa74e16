import { createRequire } from 'node:module';
import { Worker } from 'node:worker_threads';
import { z } from 'zod';
import { Problem } from '#contract/problem';
import { csvOfSheet } from './csv-of-sheet.js';

const MOST_BYTES = 16 * 1024 * 1024;
const MOST_SECONDS = 120;
const MOST_MEMORY_MB = 1024;
/** Runs in a thread: unpacking blocks for seconds, and a small archive can hold gigabytes. */
const READER = `
  const { parentPort, workerData } = require('node:worker_threads');
  require(workerData.library).default(Buffer.from(workerData.bytes)).then((sheets) => parentPort.postMessage({ sheets }), (error) => parentPort.postMessage({ refused: String(error && error.message) }));
`;
const cell = z.union([z.string(), z.number(), z.boolean(), z.date(), z.null()]);
const answer = z.union([z.object({ sheets: z.array(z.object({ sheet: z.string(), data: z.array(z.array(cell)) })) }), z.object({ refused: z.string() })]);

/** An XLSX file is a ZIP archive (ECMA-376, ISO/IEC 29500): it begins with the mark of one. */
export const isSheet = (bytes: Uint8Array): boolean => bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4;

/** The first sheet with something on it, as the CSV text that the import keeps and shows. Moments have no zone in a sheet: they come as its clock shows them. */
export async function readSheet(bytes: Uint8Array): Promise<Uint8Array> {
  if (bytes.length > MOST_BYTES) throw new Problem('too-large', `An XLSX file of at most ${MOST_BYTES / 2 ** 20} MB is expected. Save the sheet as CSV: that may have 64 MB.`);
  const read = await inThread(bytes);
  if ('refused' in read) throw new Problem('not-readable', 'The file is not a whole XLSX file. Save it again as XLSX, or as CSV.');
  const filled = read.sheets.find(({ data }) => data.some((row) => row.some((value) => value !== null && value !== '')));
  if (!filled) throw new Problem('not-readable', 'No sheet of the file has anything on it.');
  return Buffer.from(csvOfSheet(filled.data));
}

function inThread(bytes: Uint8Array): Promise<z.infer<typeof answer>> {
  const library = createRequire(import.meta.url).resolve('read-excel-file/node');
  const thread = new Worker(READER, { eval: true, workerData: { library, bytes }, resourceLimits: { maxOldGenerationSizeMb: MOST_MEMORY_MB } });
  return new Promise<z.infer<typeof answer>>((resolve) => {
    const giveUp = () => resolve({ refused: 'no answer' });
    const patience = setTimeout(giveUp, MOST_SECONDS * 1000);
    thread.once('message', (message: unknown) => resolve(answer.safeParse(message).data ?? { refused: 'an unknown kind of cell' }));
    thread.once('error', giveUp); // Out of memory: more was packed than any table has.
    thread.once('exit', () => { clearTimeout(patience); giveUp(); });
  }).finally(() => thread.terminate());
}
