import { searchPastFixes } from '../../apps/api/src/knowledge/search-past-fixes.js';
import { indexOf, PastFixIndex } from '../../apps/api/src/knowledge/past-fix-index.js';
import { tradeVocabulary } from '../../apps/api/src/knowledge/vocabulary.js';
import type { PastFix } from '../../apps/api/src/knowledge/past-fix.js';
import { findDefect } from '#canmaking/defects/taxonomy';
import { seedNotes } from '../../seed/notes.js';
import { judged } from './search/judged.js';
import { stories, tellStories } from './search/notes.js';

// `npm run bench:search`: how well and how fast past fixes are found. Milliseconds depend on the machine; the rest does not.
const TOP = 5;
const AIM = { recall: 0.9, reciprocalRank: 0.8, milliseconds: 20 };
const TELLINGS = 6;
const SLICE = 20;

const seed = seedNotes.map((note, place): PastFix => ({
  kind: 'note', id: place + 1, defect: note.defectCode, defectName: findDefect(note.defectCode)?.name ?? note.defectCode, stepKind: note.stepKind, machine: note.machineCode, customer: null, state: null,
  changedAt: new Date(Date.UTC(2026, 0, 1) - note.daysAgo * 86_400_000),
  texts: { title: note.title, symptom: note.symptom, place: note.place, cause: note.cause, howToCheck: note.howToCheck, fix: note.fix, verified: note.verified, about: `${findDefect(note.defectCode)?.name ?? ''} ${note.stepKind.replaceAll('-', ' ')} ${note.machineCode ?? ''}` },
}));

/** Ids of the notes that a judgement calls right; a judgement that names nothing is a mistake of the bench. */
function rightNotes(keys: readonly string[], storyOf: ReadonlyMap<number, string>): Set<number> {
  const ids = new Set<number>();
  for (const key of keys) {
    const found = key.startsWith('note:') ? seed.filter(({ texts }) => texts.title.startsWith(key.slice(5))).map(({ id }) => id) : [...storyOf].filter(([, story]) => story === key).map(([id]) => id);
    if (found.length === 0) throw new Error(`the judgement "${key}" names no note`);
    for (const id of found) ids.add(id);
  }
  return ids;
}

function quality(): void {
  const { notes, storyOf } = tellStories(TELLINGS, seed.length + 1);
  const index = indexOf([...seed, ...notes], tradeVocabulary);
  const rows = judged.map(({ query, kind, right }) => {
    const ids = rightNotes(right, storyOf);
    const hits = searchPastFixes(index, { q: query, take: 50 }).hits;
    const place = hits.findIndex(({ id }) => ids.has(id));
    return { query, kind, recall: hits.slice(0, TOP).filter(({ id }) => ids.has(id)).length / Math.min(TOP, ids.size), reciprocalRank: place < 0 ? 0 : 1 / (place + 1), first: hits[0]?.title.map(({ text }) => text).join('') ?? 'nothing' };
  });
  console.log(`${seed.length + notes.length} notes (${stories.length} stories, ${TELLINGS} tellings each, and the demo plant's), ${judged.length} judged searches`);
  const mean = (some: typeof rows, of: 'recall' | 'reciprocalRank') => some.reduce((sum, row) => sum + row[of], 0) / some.length;
  for (const kind of [...new Set(rows.map((row) => row.kind))]) {
    const some = rows.filter((row) => row.kind === kind);
    console.log(`         ${kind.padEnd(15)} ${String(some.length).padStart(2)} searches  recall at ${TOP} ${mean(some, 'recall').toFixed(3)}  reciprocal rank ${mean(some, 'reciprocalRank').toFixed(3)}`);
  }
  for (const { query, recall, reciprocalRank, first } of rows.filter((row) => row.recall < 1 || row.reciprocalRank < 1)) console.log(`         not perfect: "${query}" recall ${recall.toFixed(2)}, reciprocal rank ${reciprocalRank.toFixed(2)}, first: ${first}`);
  show(`recall at ${TOP} (of the right notes, at most ${TOP})`, mean(rows, 'recall'), AIM.recall, 'at least');
  show('mean reciprocal rank of the first right note', mean(rows, 'reciprocalRank'), AIM.reciprocalRank, 'at least');
}

/** Letters of a number in base 20: pronounceable by nobody, different for each. */
function partNumber(number: number): string {
  let text = '';
  for (let rest = number * 7919 + 160_000; rest > 0; rest = Math.floor(rest / 20)) text += 'bcdfghklmnprstvwxzae'[rest % 20] ?? '';
  return text;
}

function speed(): void {
  const { notes } = tellStories(Math.ceil(10_000 / stories.length), 1);
  // Real notes hold many words that stand once: three invented part numbers each make 30,000 of them.
  const some = notes.slice(0, 10_000).map((note) => ({ ...note, texts: { ...note.texts, fix: `${note.texts.fix} Parts ${[0, 1, 2].map((part) => partNumber(note.id * 3 + part)).join(', ')}.` } }));
  const index = new PastFixIndex(tradeVocabulary);
  const slices: number[] = [];
  for (let from = 0; from < some.length; from += SLICE) {
    const began = performance.now();
    for (const note of some.slice(from, from + SLICE)) index.add(note);
    slices.push(performance.now() - began);
  }
  const built = slices.reduce((sum, one) => sum + one, 0);
  const times: number[] = [];
  for (let round = 0; round < 6; round += 1) {
    for (const { query } of judged) {
      const before = performance.now();
      searchPastFixes(index, { q: query, take: 50 });
      // The first round warms up.
      if (round > 0) times.push(performance.now() - before);
    }
  }
  times.sort((a, b) => a - b);
  const at = (share: number) => times[Math.min(times.length - 1, Math.floor(times.length * share))] as number;
  console.log(`         index of ${some.length} notes built in ${built.toFixed(0)} ms, a slice of ${SLICE} holds requests up for at most ${Math.max(...slices).toFixed(1)} ms; searches p50 ${at(0.5).toFixed(1)} ms, p99 ${at(0.99).toFixed(1)} ms; heap ${(process.memoryUsage().heapUsed / 1e6).toFixed(0)} MB`);
  show('p95 of a search in 10,000 notes, milliseconds', at(0.95), AIM.milliseconds, 'at most');
}

function show(name: string, value: number, aim: number, side: 'at least' | 'at most'): void {
  const met = side === 'at least' ? value >= aim : value <= aim;
  console.log(`${value.toFixed(3).padStart(7)}  aim ${side} ${aim}  ${met ? 'met    ' : 'NOT MET'}  ${name}`);
}

console.log(`Node.js ${process.version}`);
quality();
speed();
