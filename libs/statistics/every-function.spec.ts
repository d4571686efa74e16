import { readdirSync } from 'node:fs';
import { expect, it } from 'vitest';
import { CALLS, UNGUARDED } from '../../test/every-function/calls.js';
import { spoil } from '../../test/every-function/spoil.js';

type Callable = (...args: readonly unknown[]) => unknown;

const folder = new URL('.', import.meta.url);
const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts') && !file.endsWith('.spec.ts')).sort();
const exported = new Map<string, { readonly file: string; readonly call: Callable }>();
for (const file of files) {
  const module: Readonly<Record<string, unknown>> = await import(new URL(file, folder).pathname);
  for (const [name, value] of Object.entries(module)) {
    if (typeof value !== 'function') continue;
    const call: Callable = (...args) => Reflect.apply(value, undefined, args);
    const before = exported.get(name);
    // One home a function: the same name may be passed on, but not written twice.
    if (before === undefined) exported.set(name, { file, call });
  }
}

it('every exported function has a call, and every call its function', () => {
  expect(exported.size).toBeGreaterThan(150);
  expect(Object.keys(CALLS).sort()).toEqual([...exported.keys()].sort());
});

it.each([...exported])('%s takes its valid call, leaves it unchanged and answers finite figures', (name, { call }) => {
  const args = CALLS[name] ?? [];
  const before = structuredClone(args.map(plain));
  const answer = call(...args.map(frozen));
  expect(notFinite(answer, name)).toEqual([]);
  expect(args.map(plain)).toEqual(before);
});

it.each([...exported].filter(([name]) => !UNGUARDED.includes(name)))('%s answers whatever is spoiled with finite figures or a refusal that says what is needed', (name, { call }) => {
  const wrong: string[] = [];
  for (const { args, what } of spoil(CALLS[name] ?? [])) {
    try {
      wrong.push(...notFinite(call(...args), 'answer').map((place) => `${what}: ${place}`));
    } catch (refusal) {
      if (!(refusal instanceof RangeError)) wrong.push(`${what}: ${String(refusal)}`);
      else if (!/^[a-z][\w ()/-]*: .*(need|expect)/i.test(refusal.message)) wrong.push(`${what} is refused without saying what is needed: ${refusal.message}`);
    }
  }
  expect(wrong).toEqual([]);
});

/** Places in an answer, however deep, that hold NaN or an infinity. */
function notFinite(value: unknown, where: string): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [`${where} is ${value}`];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inside]) => notFinite(inside, `${where}.${key}`));
}

/** Frozen to the bottom; typed arrays cannot be, so they are compared afterwards. */
function frozen(value: unknown): unknown {
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return value;
  Object.values(value).forEach(frozen);
  return Object.freeze(value);
}

/** What a function is handed besides data cannot be copied. */
const plain = (value: unknown): unknown => (typeof value === 'function' ? String(value) : value);
