import type { Session } from '../platform/endpoint.js';

/** The one customer whose packs a person may see; null = all. Nobody is bound to a customer unless their session says so. */
export function visibleCustomer({ person }: Session): string | null {
  return 'customer' in person && typeof person.customer === 'string' && person.customer !== '' ? person.customer : null;
}
