import type { PackDifference, PackVerification } from '#contract/packs';
import { canonicalJson, sha256 } from '../../packs/canonical.js';
import { type PackContent, packFile, type PackInputs, type PackSubgroup } from '../../packs/pack-content.js';
import { readingsIn } from '../../packs/pack-facts.js';
import { findPackByHash } from '../../packs/packs.store.js';
import { version } from '../../platform/version.js';
import type { Work } from '../../platform/work.js';
import { computePack } from './compute-pack.js';
import { readInputs } from './freeze-pack.js';

const LISTED = 200;
/** A file that is no pack at all: says what is wrong and where. */
export class NoPack extends Error {}

/** The text of the file that is handed over. */
export const packFileText = (json: string, hash: string): string => `{"content":${json},"sha256":"${hash}"}`;

/**
 * Compares a pack with itself (bytes, hash, every figure recomputed from its own readings) and with what is stored now.
 * Equal means all of it; later work on signals, incidents and plans is told, and is no difference of the evidence.
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
  compare(content.results, results, 'results', (where, pack, recomputed) => all.push({ kind: 'recomputed', where, pack, now: recomputed }));
  const inputs = await work.run(async (tx) => {
    await tx.$executeRaw`SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY`;
    return readInputs(tx, plantId, content.scope, new Date(content.madeAt));
  }, 900_000);
  compareInputs(content.inputs, JSON.parse(canonicalJson(inputs)) as PackInputs, all);
  const serious = all.filter(({ kind }) => kind !== 'moved-on');
  return {
    at: now.toISOString(), equal: serious.length === 0, stale: serious.some(({ kind }) => kind === 'corrected' || kind === 'altered' || kind === 'added' || kind === 'removed'), sha256: hash,
    figures: countNumbers(content.results), readings: readingsIn(content.inputs), differences: [...serious, ...all.filter(({ kind }) => kind === 'moved-on')].slice(0, LISTED), more: Math.max(0, all.length - LISTED), softwareVersion: { pack: content.softwareVersion, now: version },
  };
}

function parsePack(text: string): { content: PackContent; hash: string; raw: unknown } {
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch (error) {
    throw new NoPack(`the file is not JSON: ${error instanceof Error ? error.message : String(error)}`);
  }
  const pack = packFile.safeParse(parsed);
  if (!pack.success) {
    const [issue] = pack.error.issues;
    throw new NoPack(`the file is not a pack: ${issue?.path.join('.') || 'the whole'}: ${issue?.message ?? 'is not as expected'}`);
  }
  return { content: pack.data.content, hash: pack.data.sha256, raw: (parsed as { content: unknown }).content };
}

type Tell = (where: string, pack: string, now: string) => void;
const shown = (value: unknown) => (value === undefined ? 'nothing' : canonicalJson(value).slice(0, 200));

/** Every leaf that differs, by its path. */
function compare(pack: unknown, now: unknown, where: string, tell: Tell): void {
  const isObject = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null;
  if (isObject(pack) && isObject(now) && Array.isArray(pack) === Array.isArray(now)) {
    for (const key of new Set([...Object.keys(pack), ...Object.keys(now)])) compare(pack[key], now[key], `${where}.${key}`, tell);
  } else if (!Object.is(pack, now)) tell(where, shown(pack), shown(now));
}

function compareInputs(pack: PackInputs, now: PackInputs, all: PackDifference[]): void {
  const subjectKey = ({ product, machine, characteristic }: PackInputs['subjects'][number]) => `${product.id}/${machine.id}/${characteristic.id}`;
  each(pack.subjects, now.subjects, subjectKey, 'subject', all, (before, after, where) => {
    const name = `${before.product.code} ${before.machine.code} ${before.characteristic.name}`;
    compare({ product: before.product, machine: before.machine, characteristic: before.characteristic }, { product: after.product, machine: after.machine, characteristic: after.characteristic }, name, (at, a, b) => all.push({ kind: 'altered', where: at, pack: a, now: b }));
    each(before.revisions, after.revisions, ({ id }) => String(id), `${name}, specification`, all, (a, b, at) => compare(a, b, at, (place, x, y) => all.push({ kind: 'altered', where: place, pack: x, now: y })));
    each(before.streams, after.streams, ({ id }) => String(id), `${name}, stream`, all, (a, b, at) => compareStream(a, b, at || where, all));
  });
  // An approved study never changes; another one may take its place.
  if (pack.gaugeStudies !== null) each(pack.gaugeStudies, now.gaugeStudies ?? [], ({ id }) => String(id), 'gauge study', all, (a, b, at) => compare(a, b, at, (place, x, y) => all.push({ kind: 'altered', where: place, pack: x, now: y })), 'moved-on', 'moved-on');
  const others = ['gauges', 'signals', 'incidents', 'events', 'corrections', 'signatures', 'checks', 'missed', 'studies'] as const;
  for (const part of others) compare(pack[part], now[part], part, (where, a, b) => all.push({ kind: part === 'studies' ? 'altered' : 'moved-on', where, pack: a, now: b }));
}

function compareStream(before: PackInputs['subjects'][number]['streams'][number], after: typeof before, where: string, all: PackDifference[]): void {
  const { subgroups, limits, ...facts } = before;
  const { subgroups: groupsNow, limits: limitsNow, ...factsNow } = after;
  compare(facts, factsNow, where, (at, a, b) => all.push({ kind: 'altered', where: at, pack: a, now: b }));
  each(limits, limitsNow, ({ id }) => String(id), `${where}, limits`, all, (a, b, at) => compare(a, b, at, (place, x, y) => all.push({ kind: 'altered', where: place, pack: x, now: y })), 'moved-on');
  each(subgroups, groupsNow, (group) => `${group[1]}#${group[2]}`, `${where}, subgroup`, all, (a, b, at) => {
    if (canonicalJson(a) === canonicalJson(b)) return;
    // Judged anew by later limits: the reading is what it was.
    const isJudgement = canonicalJson(withoutLimits(a)) === canonicalJson(withoutLimits(b));
    all.push({ kind: isJudgement ? 'moved-on' : b[8] > a[8] ? 'corrected' : 'altered', where: at, pack: shown(a), now: shown(b) });
  });
}

const withoutLimits = (group: PackSubgroup) => group.filter((_value, index) => index !== 7);

function each<Item>(pack: readonly Item[], now: readonly Item[], keyOf: (item: Item) => string, what: string, all: PackDifference[], both: (before: Item, after: Item, where: string) => void, added: 'added' | 'moved-on' = 'added', removed: 'removed' | 'moved-on' = 'removed'): void {
  const left = new Map(now.map((item) => [keyOf(item), item]));
  for (const before of pack) {
    const key = keyOf(before);
    const after = left.get(key);
    left.delete(key);
    if (after === undefined) all.push({ kind: removed, where: `${what} ${key}`, pack: shown(before), now: 'nothing' });
    else both(before, after, `${what} ${key}`);
  }
  for (const [key, item] of left) all.push({ kind: added, where: `${what} ${key}`, pack: 'nothing', now: shown(item) });
}

function countNumbers(value: unknown): number {
  if (typeof value === 'number') return 1;
  return typeof value === 'object' && value !== null ? Object.values(value).reduce<number>((sum, member) => sum + countNumbers(member), 0) : 0;
}
