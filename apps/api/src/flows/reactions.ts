import type { PastFixes } from '../knowledge/past-fixes.js';
import type { Reaction } from '../platform/outbox.worker.js';
import type { Work } from '../platform/work.js';
import { suggestNotes } from './reactions/suggest-notes.js';

/** Every outbox kind and what follows from it, on one screen; open pages are told by platform/news.ts. A reaction may run late and may run twice. */
export function reactions(work: Work, pastFixes: PastFixes): Record<string, Reaction[]> {
  return {
    'stream.changed': [],
    'signal.raised': [suggestNotes(work, pastFixes)],
    'signal.changed': [],
    'incident.changed': [suggestNotes(work, pastFixes)],
    'hold.changed': [],
    'kiosk.changed': [],
  };
}
