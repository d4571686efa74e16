import type { Live, LiveNews } from '../../platform/live.js';
import type { Reaction } from '../../platform/outbox.worker.js';

/** Tells open pages which view is old; a closed page is no failure. */
export const pushNews = (live: Live, kind: LiveNews['kind'], field: string): Reaction => async (row) => {
  const id = row.payload[field];
  if (typeof id === 'number') live.push({ plantId: row.plantId, kind, id });
};
