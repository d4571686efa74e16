import { type DifferenceClass, differenceClass, type PackDifference, type PackVerification } from '#contract/packs';
import { canonicalJson, sha256 } from '../../packs/canonical.js';
import { type PackContent, packFile, type PackInputs } from '../../packs/pack-content.js';
import { readingsIn } from '../../packs/pack-facts.js';
import { findPackByHash } from '../../packs/packs.store.js';
import { expectedWords } from '../../platform/expected-words.js';
import { readOneMoment } from '../../platform/one-moment.js';
import { version } from '../../platform/version.js';
import type { Work } from '../../platform/work.js';
import { compareInputs, compareLeaves } from './compare-inputs.js';
import { computePack } from './compute-pack.js';
import { explainDifferences } from './explain-differences.js';
import { readInputs } from './freeze-pack.js';

/** Of each class of difference. */
const LISTED = 100;
/** A file that is no pack at all: says what is wrong and where. */
export class NoPack extends Error {}

/** The text of the file that is handed over. */
export const packFileText = (json: string, hash: string): string => `{"content":${json},"sha256":"${hash}"}`;

/**
 * Compares a pack with itself (bytes, hash, every figure recomputed from its own readings) and with what is stored now.
 * Equal means all of it. What acts of the audit trail corrected since is told apart from what nothing explains; later work on signals,
 * incidents and plans is told, and is no difference of the evidence.
 * @throws NoPack where the text is not a pack
 */
export async function verifyPack(work: Work, plantId: number, text: string, now: Date): Promise<PackVerification> {
  const { content, hash, raw } = parsePack(text);
  const all: PackDifference[] = [];
  const json = canonicalJson(raw);
  const found = sha256(json);
  if (found !== hash) all.push({ kind: 'hash', where: 'sha256', pack: hash, now: found });
  else if (packFileText(json, hash) !== text.trimEnd()) all.push({ kind: 'hash', where: 'file', pack: 'other bytes than the content gives', now: 'RFC 8785' });
  if ((await findPackByHash(work.read, plantId, hash)) === null) all.push({ kind: 'stored', where: 'sha256', pack: hash, now: 'no pack with this hash is stored here' });
  const results = await computePack(content.inputs, content.scope);
  compareLeaves(content.results, results, 'results', (where, pack, recomputed) => all.push({ kind: 'recomputed', where, pack, now: recomputed }));
  const sinceThen = await work.run(async (tx) => {
    await readOneMoment(tx);
    const inputs = await readInputs(tx, plantId, content.scope, new Date(content.madeAt));
    return explainDifferences(tx, plantId, content.chainHead, compareInputs(content.inputs, JSON.parse(canonicalJson(inputs)) as PackInputs));
  }, 900_000);
  all.push(...sinceThen);
  const of = (wanted: DifferenceClass) => all.filter(({ kind }) => differenceClass(kind) === wanted);
  const [serious, corrected, movedOn] = [of('serious'), of('corrected'), of('movedOn')];
  const differences = [serious, corrected, movedOn].flatMap((each) => each.slice(0, LISTED));
  return {
    at: now.toISOString(), equal: serious.length + corrected.length === 0, stale: corrected.length > 0 || serious.some(({ kind }) => kind === 'altered' || kind === 'added' || kind === 'removed'), sha256: hash,
    figures: countNumbers(content.results), readings: readingsIn(content.inputs), serious: serious.length, corrected: corrected.length, movedOn: movedOn.length, differences, more: all.length - differences.length, softwareVersion: { pack: content.softwareVersion, now: version },
  };
}

function parsePack(text: string): { content: PackContent; hash: string; raw: unknown } {
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch (error) {
    throw new NoPack(`the file is not JSON: ${error instanceof Error ? error.message : String(error)}`);
  }
  const pack = packFile.safeParse(parsed, { error: expectedWords });
  if (!pack.success) {
    const [issue] = pack.error.issues;
    throw new NoPack(`the file is not a pack: ${issue?.path.join('.') || 'the whole'}: expected ${issue?.message ?? 'something else'}`);
  }
  return { content: pack.data.content, hash: pack.data.sha256, raw: (parsed as { content: unknown }).content };
}

function countNumbers(value: unknown): number {
  if (typeof value === 'number') return 1;
  return typeof value === 'object' && value !== null ? Object.values(value).reduce<number>((sum, member) => sum + countNumbers(member), 0) : 0;
}
