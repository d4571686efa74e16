import { expect, it } from 'vitest';
import { capabilityFigure, type FigureWords } from './capability.figure.js';

const words: FigureWords = { axis: 'Body hook (mm)', count: 'Number of cans', bars: 'measured', barsOutside: 'outside', within: 'within', overall: 'overall', lsl: 'LSL 1.60', usl: 'USL 1.90', target: 'target 1.75', bin: (low, high, count) => `${low} to ${high}: ${count}` };
const histogram = { edges: [1.5, 1.55, 1.6, 1.65, 1.7], counts: [2, 0, 7, 5], curves: { within: { x: [1.4, 1.8], count: [0.1, 0.2] }, overall: null } };
const limits = { lsl: 1.6, target: 1.75, usl: 1.9 };

it('draws every bin once, at its middle and as wide as it is, and sets apart what lies outside', () => {
  const { data } = capabilityFigure(histogram, limits, words);
  expect(data.map(({ name }) => name)).toEqual(['measured', 'outside', 'within']);
  expect(data[0]).toMatchObject({ type: 'bar', x: [expect.closeTo(1.625, 9), expect.closeTo(1.675, 9)], y: [7, 5], text: ['1.6 to 1.65: 7', '1.65 to 1.7: 5'] });
  expect(data[1]).toMatchObject({ x: [expect.closeTo(1.525, 9), expect.closeTo(1.575, 9)], y: [2, 0], marker: { pattern: { shape: '/' } } });
});

it('marks each limit that exists, with its value, and keeps all of them in view', () => {
  const { layout } = capabilityFigure(histogram, limits, words);
  expect(layout.shapes?.map(({ x0 }) => x0)).toEqual([1.6, 1.75, 1.9]);
  expect(layout.annotations?.map(({ text }) => text)).toEqual(['LSL 1.60', 'target 1.75', 'USL 1.90']);
  const [low, high] = layout.xaxis?.range ?? [];
  expect(low).toBeLessThan(1.5);
  expect(high).toBeGreaterThan(1.9);
  const oneSided = capabilityFigure(histogram, { lsl: 1.6, target: null, usl: null }, words);
  expect(oneSided.layout.shapes).toHaveLength(1);
  expect(oneSided.layout.xaxis?.range?.[1]).toBeLessThan(1.75);
});

it('takes a limit of zero for a limit, and none at all for none', () => {
  expect(capabilityFigure({ ...histogram, edges: [-0.2, -0.1, 0, 0.1, 0.2] }, { lsl: 0, target: null, usl: null }, words).data.map(({ name }) => name)).toEqual(['measured', 'outside', 'within']);
  const bare = capabilityFigure(histogram, null, words);
  expect([bare.data[0]?.name, bare.layout.shapes, bare.layout.annotations]).toEqual(['measured', [], []]);
  expect(bare.data.filter(({ type }) => type === 'bar')).toHaveLength(1);
});

it('tells the curves apart by their dashes as well', () => {
  const both = capabilityFigure({ ...histogram, curves: { within: { x: [1], count: [1] }, overall: { x: [1], count: [2] } } }, limits, words).data.slice(2);
  expect(both).toMatchObject([{ name: 'within', line: { dash: 'dash' }, y: [1] }, { name: 'overall', line: { dash: 'solid' }, y: [2] }]);
});
