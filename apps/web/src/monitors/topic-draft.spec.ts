import { expect, it } from 'vitest';
import { feedTopicFields, type FeedTopicView } from '#contract/monitors';
import type { PlantTree } from '#contract/plant';
import { bodyOf, draftOf, emptyDraft, readChannels } from './topic-draft.js';

const tree = {
  lines: [{ id: 1, code: 'L1', lanes: [{ id: 5, code: 'A', name: 'upper', position: 1 }], steps: [{ id: 2, kind: 'body-maker', position: 1, machines: [{ id: 3, code: 'BM1', name: 'Body maker 1', retired: false, units: [{ id: 9, code: 'W1', position: 1 }] }] }] }],
  characteristics: [{ id: 11, code: 'weld-overlap' }, { id: 12, code: 'weld-thickness' }],
} as unknown as PlantTree;

it('reads channels by the codes of the plant, one a line', () => {
  expect(readChannels('/v/0; weld-overlap; a; –; 0.001\n\n/v/1;weld-thickness;;W1', tree, 3)).toEqual({ faults: [], channels: [{ value: '/v/0', characteristicId: 11, laneId: 5, unitId: null, factor: 0.001 }, { value: '/v/1', characteristicId: 12, laneId: null, unitId: 9, factor: 1 }] });
});

it('names the line and the word that is not known', () => {
  expect(readChannels('/v/0; overlap\n/v/1\n/v/2; weld-overlap; B; –; none', tree, 3).faults).toEqual([{ line: 1, fault: 'unknown', word: 'overlap' }, { line: 2, fault: 'parts', word: '' }, { line: 3, fault: 'unknown', word: 'none' }, { line: 3, fault: 'unknown', word: 'B' }]);
});

it('sends each kind of mapping as the server takes it, and shows a stored one as it was typed', () => {
  const draft = { ...emptyDraft(), filter: 'weld/a', machineId: '3', productId: '7', channels: '/v/0; weld-overlap; A; –; 1' };
  for (const kind of ['readings', 'counts', 'line-event'] as const) {
    const typed = { ...draft, kind, ...(kind === 'line-event' ? { event: 'jam' } : {}) };
    const body = feedTopicFields.parse(bodyOf(typed, readChannels(typed.channels, tree, 3).channels));
    const view: FeedTopicView = { ...body, id: 1, machine: 'BM1', product: 'P' };
    expect(feedTopicFields.parse(bodyOf(draftOf(view, tree), readChannels(draftOf(view, tree).channels, tree, 3).channels))).toEqual(body);
  }
});
