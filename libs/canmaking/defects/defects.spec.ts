import { expect, it } from 'vitest';
import { stepOrder } from '../line/steps.js';
import { ambiguousTerms, synonymGroups } from './synonyms.js';
import { defects, findDefect, leakPlaces } from './taxonomy.js';

it('gives every defect one stable kebab-case code', () => {
  const codes = defects.map((defect) => defect.code);
  expect(new Set(codes).size).toBe(codes.length);
  for (const code of codes) expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
  expect(codes.length).toBeGreaterThanOrEqual(40);
});

it('tells for every defect what it is, what may cause it and how to check', () => {
  for (const defect of defects) {
    expect(defect.definition.length, defect.code).toBeGreaterThan(20);
    expect(defect.howToCheck.length, defect.code).toBeGreaterThan(20);
    expect(defect.causes.length, defect.code).toBeGreaterThan(0);
    const orders = defect.upstreamSteps.map(stepOrder);
    expect(orders, defect.code).toEqual([...orders].sort((a, b) => a - b));
  }
});

it('keeps the classes of each scheme apart', () => {
  const classes = (scheme: string) => defects.flatMap((d) => d.severities).filter((s) => s.scheme === scheme).map((s) => s.class);
  // CFIA knows Serious and Minor only; 7 CFR 42 numbers its classes; FAO and Codex list what is unacceptable.
  for (const name of classes('CFIA')) expect(name).toMatch(/^(Serious|Minor)/);
  for (const name of classes('7 CFR 42')) expect(name).toMatch(/^(Critical|Major|Minor) \d/);
  for (const name of classes('FAO/Codex')) expect(name).toMatch(/^unacceptable/);
});

it('claims a published class only with a source beside it', () => {
  for (const defect of defects) {
    if (defect.severities.some((severity) => severity.basis === 'published')) expect(defect.sources.length, defect.code).toBeGreaterThan(0);
  }
});

it('finds by code and answers null for a code it does not know', () => {
  expect(findDefect('cold-weld')?.place).toBe('side seam');
  expect(findDefect('cold weld')).toBeNull();
  expect(leakPlaces).toContain('juncture');
});

it('shares a word between synonym groups only when it is listed as ambiguous', () => {
  const groupsOf = new Map<string, string[]>();
  for (const { preferred, others } of synonymGroups) {
    for (const word of [preferred, ...others]) groupsOf.set(word.toLowerCase(), [...(groupsOf.get(word.toLowerCase()) ?? []), preferred]);
  }
  const shared = [...groupsOf].filter(([, groups]) => groups.length > 1).map(([word]) => word).sort();
  expect(shared).toEqual(['lap', 'overlap']);
  const listed = new Set(ambiguousTerms.map((entry) => entry.term));
  for (const word of shared) expect(listed.has(word)).toBe(true);
  for (const { meanings } of ambiguousTerms) expect(meanings.length).toBeGreaterThanOrEqual(2);
});
