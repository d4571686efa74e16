import { expect, it } from 'vitest';
import { bodyKey, sameOrNew } from './body-key.js';

it('knows a body again, and tells two of the same content apart', () => {
  const body = { values: [1, 2] };
  expect(bodyKey(body)).toBe(bodyKey(body));
  expect(bodyKey({ values: [1, 2] })).not.toBe(bodyKey(body));
});

it('keeps the former body while its lists are the same objects and its figures the same', () => {
  const values = [1, 2, 3];
  const before = { kind: 'i-mr', values, baseline: 2 };
  expect(sameOrNew(before, { kind: 'i-mr', values, baseline: 2 })).toBe(before);
  const other: { kind: string; values: number[]; baseline?: number } = { kind: 'i-mr', values };
  expect(sameOrNew<typeof other>(before, other)).toBe(other);
  const copied = { ...before, values: [...values] };
  expect(sameOrNew(before, copied)).toBe(copied);
  expect(sameOrNew(null, before)).toBe(before);
  expect(sameOrNew(before, null)).toBeNull();
});
