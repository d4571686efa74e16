import { deliver } from '../outgoing/deliver.js';
import { sendMail } from '../outgoing/send-mail.js';
import type { PastFixes } from '../knowledge/past-fixes.js';
import type { Clock } from '../platform/clock.js';
import type { Outward } from '../platform/outward.js';
import type { Reaction } from '../platform/outbox.worker.js';
import type { Work } from '../platform/work.js';
import { tellSignal } from './reactions/tell-signal.js';
import { suggestNotes } from './reactions/suggest-notes.js';

/** Every outbox kind and what follows from it, on one screen; open pages are told by platform/news.ts. A reaction may run late and may run twice. */
export function reactions(work: Work, clock: Clock, pastFixes: PastFixes, publicUrl: string | null): Record<string, Reaction[]> {
  return {
    'stream.changed': [],
    'signal.raised': [tellSignal(work, clock, publicUrl), suggestNotes(work, pastFixes)],
    'signal.changed': [],
    'incident.changed': [suggestNotes(work, pastFixes)],
    'due-check.skipped': [],
    'check.photo-added': [],
    'check.photo-removed': [],
    'study.changed': [],
    'specification.decided': [],
    'hold.changed': [],
    'kiosk.changed': [],
    'webhook.changed': [],
    'delivery.changed': [],
  };
}

/** What waits for a receiver outside goes in a lane of its own. */
export const SENDING = ['delivery.due', 'mail.due'] as const;
export function sending(work: Work, clock: Clock, outward: Outward): Record<(typeof SENDING)[number], Reaction[]> {
  return { 'delivery.due': [deliver(work, clock)], 'mail.due': [sendMail(work, clock, outward)] };
}
