import { administrators, readers, type Role } from './roles.js';

/**
 * What open pages are told, and who may hear it. The kind of an outbox message before its dot, with the payload's
 * `<kind>Id`, becomes news; a kind that is not listed here is told to nobody.
 */
export const newsReaders: Readonly<Record<string, readonly Role[]>> = {
  stream: readers, signal: readers, incident: readers, hold: readers,
  webhook: administrators, delivery: administrators, kiosk: administrators,
};

/** What makes a wall board old. It is told that the board changed, and not what. */
export const wallKinds: readonly string[] = ['stream', 'signal', 'incident', 'hold'];
