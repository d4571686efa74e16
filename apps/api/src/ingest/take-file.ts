import { createHash } from 'node:crypto';
import type { Layout, Mapping } from '#contract/ingest';
import { Problem, type ProblemCode } from '#contract/problem';
import { record } from '../platform/audit.js';
import { asProblem } from '../platform/problem.filter.js';
import { detectLayout } from './detect-layout.js';
import { fingerprintOf } from './fingerprint.js';
import { findDroppedImport, findImportView, findMapping, findRefusedCsv, insertImport, loadNames, moveImport } from './ingest.store.js';
import { type Dropped, HOW_TO, type InboxFolder } from './inbox-folder.js';
import { forHeader } from './look-at-file.js';
import { RowMapper } from './map-rows.js';
import { readHead } from './read-table.js';
import { type RunningImport, runImport } from './run-import.js';
import { tableBytes } from './table-bytes.js';

const INBOX_NAME = 'Watched folder';
const MOST_TRIES = 3;
const AWAY: readonly ProblemCode[] = ['database-unavailable', 'disk-full', 'busy'];
export type Taking = Omit<RunningImport, 'actor' | 'id'> & { plant: { id: number; timeZone: string }; folder: InboxFolder; /** How often the import of this file has failed while the database was there. */ failures: number };
/** Both stay where they are: "failed" through their own import, "stays" for what is no fault of theirs. */
export type Outcome = 'moved' | 'failed' | 'stays';
type Known = { content: Uint8Array; sha256: string; layout: Layout; mapping: Mapping };

/**
 * Imports one file of the watched folder as an upload would be, and moves it to done/, or to waiting/ with a text that says what
 * it waits for. After a crash the file is still there: its import is found by content and continued, and readings know their places.
 */
export async function takeFile(taking: Taking, file: Dropped): Promise<Outcome> {
  const { folder } = taking;
  const known = await recognise(taking, file).catch((error: unknown) => {
    const problem = asProblem(error);
    if (problem.code === 'not-readable' || problem.code === 'too-large') return problem.detail ?? problem.message;
    throw error;
  });
  if (typeof known === 'string') {
    await folder.put(file.name, 'waiting', { ending: HOW_TO, text: howTo(file.name, known) });
    return 'moved';
  }
  const id = await importOf(taking, file, known);
  const view = await findImportView(taking.work.read, taking.plant.id, id);
  const stoppedBy = view?.state === 'running' ? await runImport({ ...taking, actor: actorOf(taking), id }) : null;
  return settle(taking, file, id, stoppedBy);
}

const actorOf = ({ plant }: Taking) => ({ plantId: plant.id, userId: null, name: INBOX_NAME });

/** Content, layout and mapping; or why the file has to wait. */
async function recognise({ work, plant, folder, now }: Taking, file: Dropped): Promise<Known | string> {
  if (file.tooLarge) throw new Problem('too-large', 'A file of at most 64 MB is expected: split it.');
  const content = await tableBytes(await folder.read(file.name));
  const detected = detectLayout(content, plant.timeZone);
  const { header } = await readHead(content, detected.layout);
  const kept = await findMapping(work.read, plant.id, fingerprintOf(header));
  if (!kept) return `No file with these columns was imported yet: ${header.join(', ')}.`;
  const layout = { ...kept.layout, ...detected.seen };
  const mapping = forHeader(header, kept.mapping);
  const missing = new RowMapper(header, layout, mapping, await loadNames(work.read, plant.id), now()).missing();
  if (missing.length > 0) return `The mapping that is remembered for these columns lacks ${missing.join('; ')}.`;
  return { content, sha256: createHash('sha256').update(content).digest('hex'), layout, mapping };
}

/** The import of this very file: one that a crash left, or a new one. An import that was undone is no reason not to bring the file again. */
async function importOf(taking: Taking, file: Dropped, { content, sha256, layout, mapping }: Known): Promise<number> {
  const { work, plant, now } = taking;
  return work.run(async (tx) => {
    const left = await findDroppedImport(tx, plant.id, INBOX_NAME, { fileName: file.name, sha256 });
    if (left && (left.state === 'done' || left.stoppedBy !== null)) return left.id;
    if (left) {
      await moveImport(tx, plant.id, left.id, ['stopped', 'running'], { state: 'running', problem: null });
      return left.id;
    }
    const id = await insertImport(tx, plant.id, { fileName: file.name.slice(0, 200), sha256, content, startedBy: null, feed: INBOX_NAME, startedAt: now() });
    await moveImport(tx, plant.id, id, ['new'], { state: 'running', mapping: { layout, mapping } });
    await record(tx, actorOf(taking), 'import.started', `import ${id}`, { after: { file: file.name } });
    return id;
  }, 120_000);
}

/** Where the file goes after its import has ended; one that is to be tried again stays. */
async function settle({ work, plant, folder, failures }: Taking, file: Dropped, id: number, cause: ProblemCode | null): Promise<Outcome> {
  const view = await findImportView(work.read, plant.id, id);
  if (!view) return 'stays';
  if (view.state === 'done') {
    const refused = await findRefusedCsv(work.read, plant.id, id);
    await folder.put(file.name, 'done', refused?.refusedCsv ? { ending: '.refused.csv', text: refused.refusedCsv } : undefined);
    return 'moved';
  }
  // A database that is away or full is no fault of the file, however often it fails.
  const failed = cause !== null && !AWAY.includes(cause);
  const why = whyAside(view, id, failed && failures + 1 >= MOST_TRIES);
  if (why === null) return failed ? 'failed' : 'stays';
  await folder.put(file.name, 'waiting', { ending: HOW_TO, text: howTo(file.name, why) });
  return 'moved';
}

/** Why a file is set aside whose import did not end; null where it is to be tried again. */
function whyAside(view: { state: string; stoppedBy: string | null; problem: string | null }, id: number, isTriedEnough: boolean): string | null {
  if (view.state === 'undone') return `Import ${id} of it was undone.`;
  if (view.stoppedBy !== null) return `${view.stoppedBy} stopped import ${id} of it: continue that import there if it is to go on.`;
  if (!isTriedEnough) return null;
  return `Import ${id} of it was tried ${MOST_TRIES} times and stopped each time: ${view.problem ?? 'the reason is in the log of the server.'}`;
}

const howTo = (name: string, why: string): string => [
  `${name} was not imported by itself.`, '', why, '',
  'To import it: open Import in the web client, bring this file, say what its columns hold, and store the good rows.',
  'That mapping is then remembered: later files with the same columns, dropped into the watched folder, are imported without being asked about.',
  'Nothing of this file was changed. It stays here until you take it away or move it back into the watched folder.', '',
].join('\r\n');
