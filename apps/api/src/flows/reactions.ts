import type { PastFixes } from '../knowledge/past-fixes.js';
import type { Live } from '../platform/live.js';
import type { Reaction } from '../platform/outbox.worker.js';
import type { Work } from '../platform/work.js';
import { pushNews } from './reactions/push-news.js';
import { suggestNotes } from './reactions/suggest-notes.js';

/** Every outbox kind and what follows from it, on one screen. A reaction may run late and may run twice. */
export function reactions(work: Work, live: Live, pastFixes: PastFixes): Record<string, Reaction[]> {
  return {
    'stream.changed': [pushNews(live, 'stream', 'streamId')],
    'signal.raised': [pushNews(live, 'signal', 'signalId'), suggestNotes(work, pastFixes)],
    'signal.changed': [pushNews(live, 'signal', 'signalId')],
    'incident.changed': [pushNews(live, 'incident', 'incidentId'), suggestNotes(work, pastFixes)],
    'due-check.skipped': [],
    'specification.decided': [],
    'hold.changed': [pushNews(live, 'hold', 'holdId')],
  };
}
