import type { SessionView } from '#contract/users';
import type { Session } from '../platform/endpoint.js';
import { version } from '../platform/version.js';
import type { Tx } from '../platform/work.js';
import { findIdleMinutes } from './sessions.store.js';
import { DEFAULT_IDLE_MINUTES, findPlant, findSession, listDemoAccounts } from './users.store.js';

/** What a page needs first: who is signed in, the token for changes, and whether the plant is still to be made. */
export async function sessionView(tx: Tx, of: Session | string | null, now: Date): Promise<SessionView> {
  const [session, plant] = await Promise.all([typeof of === 'string' ? findSession(tx, of, now) : of, findPlant(tx)]);
  return {
    demoAccounts: plant?.demo ? await listDemoAccounts(tx) : [],
    person: session?.person ?? null, locked: session?.locked ?? false, idleMinutes: session ? await findIdleMinutes(tx, session.plantId) : DEFAULT_IDLE_MINUTES,
    scope: session?.scope ? { customer: session.scope.customer, from: session.scope.from.toISOString(), until: session.scope.until.toISOString() } : null, csrf: session?.csrf ?? null, firstRun: plant === null, version,
    plant: plant ? { name: plant.name, timeZone: plant.timeZone, demo: plant.demo } : null,
  };
}
