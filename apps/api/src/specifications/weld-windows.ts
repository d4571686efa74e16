import type { InputOf } from '#contract/endpoint';
import { type FieldError, Problem } from '#contract/problem';
import type { TestedWindow, WeldWindow, WeldWindowScope, writeWeldWindow } from '#contract/weld-windows';
import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import * as store from './weld-windows.store.js';

const keyOf = ({ place, productId, characteristicId }: WeldWindowScope) => [place.kind, place.kind === 'machine' ? place.machineId : place.lineId, productId ?? 'any', characteristicId].join(' ');

export type Welded = { lineId: number; machineId: number; productId: number; characteristicId: number; at: Date };

/**
 * The window that held for a setting: of its machine before its line, for its product before any. Of each place the newest
 * version in force by then counts; where that took the window back, the next wider place is asked.
 */
export function windowInForce(versions: readonly WeldWindow[], { lineId, machineId, productId, characteristicId, at }: Welded): (WeldWindow & { window: TestedWindow }) | null {
  const places: WeldWindowScope['place'][] = [{ kind: 'machine', machineId }, { kind: 'line', lineId }];
  for (const place of places) {
    for (const product of [productId, null]) {
      const key = keyOf({ place, productId: product, characteristicId });
      const [newest] = versions.filter(({ scope, effectiveFrom }) => keyOf(scope) === key && Date.parse(effectiveFrom) <= at.getTime()).sort((a, b) => b.version - a.version);
      if (newest?.window) return { ...newest, window: newest.window };
    }
  }
  return null;
}

/** Adds the next version; nobody overwrites what somebody else wrote meanwhile. */
export async function writeWindow(tx: Tx, actor: Actor & { userId: number }, { scope, window, effectiveFrom, reason, after }: InputOf<typeof writeWeldWindow>['body'], now: Date): Promise<WeldWindow> {
  const { plantId } = actor;
  await store.lockWeldWindows(tx, plantId);
  await refuseUnusable(tx, plantId, scope, window, effectiveFrom, now);
  const before = (await store.listWindowVersions(tx, plantId)).find((version) => keyOf(version.scope) === keyOf(scope));
  if ((before?.version ?? 0) !== after) throw new Problem('changed-meanwhile', `The window is at version ${before?.version ?? 0} by now; you saw version ${after}.`);
  if (window === null && !before?.window) throw new Problem('invalid-input', undefined, [{ field: 'window', expected: 'a tested window: there is none to take back' }]);
  const id = await store.insertWindow(tx, plantId, { scope, version: after + 1, window, effectiveFrom: new Date(effectiveFrom), author: actor.name, authorId: actor.userId, reason, at: now });
  await record(tx, actor, 'weld-window.written', `weld window ${id}`, { before: before && { id: before.id, window: before.window, effectiveFrom: before.effectiveFrom }, after: { scope, version: after + 1, window, effectiveFrom, reason } });
  const [stored] = await store.listWindowVersions(tx, plantId, id);
  if (!stored) throw new Problem('internal');
  return stored;
}

async function refuseUnusable(tx: Tx, plantId: number, scope: WeldWindowScope, window: TestedWindow | null, effectiveFrom: string, now: Date): Promise<void> {
  const found = await store.findScope(tx, plantId, scope);
  const { place, productId, characteristicId } = scope;
  if (place.kind === 'machine' && !found?.machineStep) throw new Problem('not-found', `There is no machine ${place.machineId}.`);
  if (place.kind === 'line' && !found?.lineThere) throw new Problem('not-found', `There is no line ${place.lineId}.`);
  if (productId !== null && !found?.productThere) throw new Problem('not-found', `There is no product ${productId}.`);
  if (!found?.kind) throw new Problem('not-found', `There is no characteristic ${characteristicId}.`);
  const errors: FieldError[] = [];
  if (place.kind === 'machine' && found.machineStep !== 'body-maker') errors.push({ field: 'scope.place.machineId', expected: `a body maker, which welds: this machine is a ${found.machineStep}` });
  if (place.kind === 'line' && !found.welds) errors.push({ field: 'scope.place.lineId', expected: 'a line that has a body maker' });
  if (found.kind !== 'variable' || found.derived || found.stepKind !== 'body-maker') errors.push({ field: 'scope.characteristicId', expected: 'a measured setting of the body maker, such as the welding current' });
  if (window) errors.push(...faultsOf(window, found, effectiveFrom, now));
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
}

function faultsOf(window: TestedWindow, { unit, plausibleLow, plausibleHigh }: { unit: string | null; plausibleLow: number | null; plausibleHigh: number | null }, effectiveFrom: string, now: Date): FieldError[] {
  const errors: FieldError[] = [];
  if (!(window.upper > window.lower)) errors.push({ field: 'window.upper', expected: `above the lower limit, ${window.lower} ${unit ?? ''}` });
  for (const side of ['lower', 'upper'] as const) {
    const [low, high] = [plausibleLow ?? Number.NEGATIVE_INFINITY, plausibleHigh ?? Number.POSITIVE_INFINITY];
    if (window[side] < low || window[side] > high) errors.push({ field: `window.${side}`, expected: `within the plausible range of the characteristic, ${plausibleLow ?? 'any'} to ${plausibleHigh ?? 'any'} ${unit ?? ''}` });
  }
  if (Date.parse(window.testedAt) > now.getTime()) errors.push({ field: 'window.testedAt', expected: 'a moment that has passed: a window is proved by a test that was made' });
  if (Date.parse(effectiveFrom) < Date.parse(window.testedAt)) errors.push({ field: 'effectiveFrom', expected: 'not before the test that proved it' });
  return errors;
}
