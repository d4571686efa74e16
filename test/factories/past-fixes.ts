import { findDefect } from '#canmaking/defects/taxonomy';
import type { PastFix } from '../../apps/api/src/knowledge/past-fix.js';
import { seedIncidents } from '../../seed/incidents.js';
import { seedNotes } from '../../seed/notes.js';

const nameOf = (code: string) => findDefect(code)?.name ?? code;

/** The invented plant's notes and incidents as the search sees them, numbered in their order from 1. */
export function seedPastFixes(): PastFix[] {
  const notes = seedNotes.map((note, place): PastFix => ({
    kind: 'note', id: place + 1, defect: note.defectCode, defectName: nameOf(note.defectCode), stepKind: note.stepKind, machine: note.machineCode, customer: null, state: null,
    changedAt: new Date(Date.UTC(2026, 0, 1) - note.daysAgo * 86_400_000),
    texts: { title: note.title, symptom: note.symptom, place: note.place, cause: note.cause, howToCheck: note.howToCheck, fix: note.fix, verified: note.verified, about: `${nameOf(note.defectCode)} ${note.stepKind.replaceAll('-', ' ')} ${note.machineCode ?? ''}` },
  }));
  const incidents = seedIncidents.map((incident, place): PastFix => ({
    kind: 'incident', id: place + 1, defect: incident.defectCode, defectName: nameOf(incident.defectCode), stepKind: null, machine: null, customer: incident.customer, state: incident.state,
    changedAt: new Date(Date.UTC(2025, 9, 3) + incident.receivedAt.day * 86_400_000),
    texts: { title: nameOf(incident.defectCode), symptom: incident.description, place: incident.leakPlace, cause: incident.cause, howToCheck: incident.containment, fix: incident.action, verified: incident.closingNote, about: `${nameOf(incident.defectCode)} ${incident.customer} ${incident.productCode} ${incident.lineCode}` },
  }));
  return [...notes, ...incidents];
}
