import type { Session } from '../platform/endpoint.js';

/** The one customer whose packs a person may see: an auditor's; null = all. */
export const visibleCustomer = ({ scope }: Session): string | null => scope?.customer ?? null;
