import { expect, it } from 'vitest';
import { likelyOrigins, originsByPlace } from '#canmaking/defects/likely-origins';
import { defects, leakPlaces } from '#canmaking/defects/taxonomy';
import { seedCharacteristics } from '../../../../seed/characteristics.js';
import { usualCharacteristics } from './usual-characteristics.js';

it('offers, and shows in the demo, every measurement in which an origin of a defect would show', () => {
  const named = new Set([...defects.flatMap(({ code }) => likelyOrigins(code)), ...leakPlaces.flatMap(originsByPlace)].flatMap(({ characteristics }) => characteristics));
  expect(named.size).toBeGreaterThan(10);
  for (const offered of [usualCharacteristics, seedCharacteristics]) {
    const codes = new Set(offered.map(({ code }) => code));
    expect([...named].filter((code) => !codes.has(code))).toEqual([]);
  }
});
