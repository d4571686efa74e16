import { expect, it } from 'vitest';
import { AUDITOR_SCREENS, isOpenToAuditors } from './auditor-screens.js';

it('opens the screens of an auditor and the records that they lead to', () => {
  for (const screen of AUDITOR_SCREENS) expect(isOpenToAuditors(`/${screen}`)).toBe(true);
  for (const path of ['/charts?stream=3', '/signals/12', '/incidents/4', '/packs/1', '/checks/9?from=log', '/account', '/signals/']) expect([path, isOpenToAuditors(path)]).toEqual([path, true]);
});

it('opens nothing else', () => {
  for (const path of ['/', '/log', '/studies', '/studies/1', '/incidents/new', '/incidents/pareto', '/incidents/4/trace', '/signals/12/trace', '/set-up?section=people', '/account/notices', '/chartsandmore', '/planner']) expect([path, isOpenToAuditors(path)]).toEqual([path, false]);
});
