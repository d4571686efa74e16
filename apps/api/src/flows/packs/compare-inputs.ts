import type { PackDifference } from '#contract/packs';
import { canonicalJson } from '../../packs/canonical.js';
import type { PackInputs, PackStream, PackSubgroup, PackSubject } from '../../packs/pack-content.js';

/** A difference, and what must have been acted on since for the trail to say why: checks, and subjects of master data ("product 3"). */
export type FoundDifference = PackDifference & { checks?: readonly number[]; subject?: string };
type Tell = (where: string, pack: string, now: string) => void;

const shown = (value: unknown) => (value === undefined ? 'nothing' : canonicalJson(value).slice(0, 200));

/** Every leaf that differs, by its path. */
export function compareLeaves(pack: unknown, now: unknown, where: string, tell: Tell): void {
  const isObject = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null;
  if (isObject(pack) && isObject(now) && Array.isArray(pack) === Array.isArray(now)) {
    for (const key of new Set([...Object.keys(pack), ...Object.keys(now)])) compareLeaves(pack[key], now[key], `${where}.${key}`, tell);
  } else if (!Object.is(pack, now)) tell(where, shown(pack), shown(now));
}

/** Frozen inputs beside those that are stored now. What differs in the evidence is altered, added or removed here; the audit trail is asked afterwards. */
export function compareInputs(pack: PackInputs, now: PackInputs): FoundDifference[] {
  const all: FoundDifference[] = [];
  const altered = (subject?: string): Tell => (where, a, b) => all.push({ kind: 'altered', where, pack: a, now: b, ...(subject ? { subject } : {}) });
  each(pack.subjects, now.subjects, ({ product, machine, characteristic }) => `${product.id}/${machine.id}/${characteristic.id}`, 'subject', {
    added: (subject, where) => wholeSubject(subject, where, 'added', all), removed: (subject, where) => wholeSubject(subject, where, 'removed', all),
    both: (before, after) => {
      const name = `${before.product.code} ${before.machine.code} ${before.characteristic.name}`;
      for (const part of ['product', 'machine', 'characteristic'] as const) compareLeaves(before[part], after[part], `${name}.${part}`, altered(`${part} ${before[part].id}`));
      each(before.revisions, after.revisions, ({ id }) => String(id), `${name}, specification`, {
        added: (revision, at) => all.push({ kind: 'added', where: at, pack: 'nothing', now: shown(revision), subject: `specification ${revision.id}` }), removed: (revision, at) => all.push({ kind: 'removed', where: at, pack: shown(revision), now: 'nothing' }),
        both: (a, b, at) => compareLeaves(a, b, at, altered()),
      });
      each(before.streams, after.streams, ({ id }) => String(id), `${name}, stream`, {
        added: (stream, at) => wholeStream(stream, at, 'added', all), removed: (stream, at) => wholeStream(stream, at, 'removed', all), both: (a, b, at) => compareStream(a, b, at, all),
      });
    },
  });
  const tell = (kind: PackDifference['kind']): Tell => (where, a, b) => all.push({ kind, where, pack: a, now: b });
  // An approved study never changes; another one may take its place.
  if (pack.gaugeStudies !== null) each(pack.gaugeStudies, now.gaugeStudies ?? [], ({ id }) => String(id), 'gauge study', { added: (study, at) => tell('moved-on')(at, 'nothing', shown(study)), removed: (study, at) => tell('moved-on')(at, shown(study), 'nothing'), both: (a, b, at) => compareLeaves(a, b, at, tell('altered')) });
  const others = ['gauges', 'signals', 'incidents', 'events', 'corrections', 'signatures', 'checks', 'missed', 'studies'] as const;
  for (const part of others) compareLeaves(pack[part], now[part], part, tell(part === 'studies' ? 'altered' : 'moved-on'));
  return all;
}

type Gone = 'added' | 'removed';
const oneSided = (kind: Gone, where: string, value: unknown): FoundDifference => ({ kind, where, pack: kind === 'added' ? 'nothing' : shown(value), now: kind === 'added' ? shown(value) : 'nothing' });

function wholeSubject(subject: PackSubject, where: string, kind: Gone, all: FoundDifference[]): void {
  for (const stream of subject.streams) wholeStream(stream, `${where}, stream ${stream.id}`, kind, all);
}

function wholeStream(stream: PackStream, where: string, kind: Gone, all: FoundDifference[]): void {
  for (const group of stream.subgroups) all.push({ ...oneSided(kind, `${where}, subgroup ${group[1]}#${group[2]}`, group), checks: [group[0]] });
}

function compareStream(before: PackStream, after: PackStream, where: string, all: FoundDifference[]): void {
  const { subgroups, limits, ...facts } = before;
  const { subgroups: groupsNow, limits: limitsNow, ...factsNow } = after;
  compareLeaves(facts, factsNow, where, (at, a, b) => all.push({ kind: 'altered', where: at, pack: a, now: b, subject: `stream ${before.id}` }));
  each(limits, limitsNow, ({ id }) => String(id), `${where}, limits`, {
    added: (row, at) => all.push({ ...oneSided('added', at, row), kind: 'moved-on' }), removed: (row, at) => all.push(oneSided('removed', at, row)),
    both: (a, b, at) => compareLeaves(a, b, at, (place, x, y) => all.push({ kind: 'altered', where: place, pack: x, now: y })),
  });
  each(subgroups, groupsNow, (group) => `${group[1]}#${group[2]}`, `${where}, subgroup`, {
    added: (group, at) => all.push({ ...oneSided('added', at, group), checks: [group[0]] }), removed: (group, at) => all.push({ ...oneSided('removed', at, group), checks: [group[0]] }),
    both: (a, b, at) => {
      if (canonicalJson(a) === canonicalJson(b)) return;
      // Judged anew by later limits: the reading is what it was.
      const isJudgement = canonicalJson(withoutLimits(a)) === canonicalJson(withoutLimits(b));
      all.push({ kind: isJudgement ? 'moved-on' : 'altered', where: at, pack: shown(a), now: shown(b), checks: [...new Set([a[0], b[0]])] });
    },
  });
}

const withoutLimits = (group: PackSubgroup) => group.filter((_value, index) => index !== 7);

function each<Item>(pack: readonly Item[], now: readonly Item[], keyOf: (item: Item) => string, what: string, on: { added(item: Item, where: string): void; removed(item: Item, where: string): void; both(before: Item, after: Item, where: string): void }): void {
  const left = new Map(now.map((item) => [keyOf(item), item]));
  for (const before of pack) {
    const key = keyOf(before);
    const after = left.get(key);
    left.delete(key);
    if (after === undefined) on.removed(before, `${what} ${key}`);
    else on.both(before, after, `${what} ${key}`);
  }
  for (const [key, item] of left) on.added(item, `${what} ${key}`);
}
