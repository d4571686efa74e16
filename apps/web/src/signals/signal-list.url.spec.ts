import { expect, it } from 'vitest';
import { changeSignalListView, readSignalListUrl, type SignalListView, writeSignalListUrl } from './signal-list.url.js';

it('comes back as it was written', () => {
  const views: SignalListView[] = [{ state: 'not-closed' }, { state: 'all', line: 2, machine: 11 }, { state: 'cause-assigned', characteristic: 3, assigned: 7, before: 120 }];
  for (const view of views) expect(readSignalListUrl(writeSignalListUrl(view))).toEqual(view);
});

it('leaves out what is no id and no state', () => {
  expect(readSignalListUrl(new URLSearchParams('state=burnt&line=-1&machine=x&before=1.5&assigned=0'))).toEqual({ state: 'not-closed' });
});

it('begins at the newest again when a filter changes, and forgets the machine of another line', () => {
  const view: SignalListView = { state: 'all', line: 1, machine: 4, before: 90 };
  expect(changeSignalListView(view, { state: 'closed' })).toEqual({ state: 'closed', line: 1, machine: 4, before: undefined });
  expect(changeSignalListView(view, { line: 2 })).toEqual({ state: 'all', line: 2, machine: undefined, before: undefined });
  expect(changeSignalListView(view, { before: 60 })).toEqual({ ...view, before: 60 });
});
