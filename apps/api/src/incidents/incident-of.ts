import type { Incident } from '#contract/incidents';
import type { Scope } from '../platform/scope.js';
import { idsInScope } from '../platform/scope.store.js';
import type { Tx } from '../platform/work.js';

/** An incident as an auditor sees it: without notes of past fixes, line events and kept comparisons (their words may name others), and only with signals of their own products. */
export async function incidentOf(tx: Tx, plantId: number, incident: Incident, scope: Scope | null): Promise<Incident> {
  if (!scope) return incident;
  const theirs = await idsInScope(tx, plantId, scope, 'signal', incident.signalList.map(({ id }) => id));
  return { ...incident, notes: [], eventList: [], verifications: [], reply: null, signals: theirs.size, signalList: incident.signalList.filter(({ id }) => theirs.has(id)) };
}
