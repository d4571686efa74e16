import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { investigators, readers } from './roles.js';
import { code, done, finite, flag, id, idParams, longText, moment, shortText } from './shapes.js';

/** A text that may not be empty. */
const neededText = longText.min(1);

export const noteTexts = z.object({
  title: shortText, symptom: neededText,
  /** Where on the can and on the line. */
  place: longText.default(''),
  cause: neededText, howToCheck: longText.default(''), fix: neededText,
  /** How it was shown that the fix holds; empty means: not shown yet. */
  verified: longText.default(''),
  /** A code of the defect taxonomy, see GET /api/defects. */
  defect: code,
  /** A kind of step, such as body-maker. */
  stepKind: code,
  /** Null: holds for any machine of the step. */
  machineId: id.nullable().default(null),
}).meta({ id: 'NoteTexts' });
export type NoteTexts = z.infer<typeof noteTexts>;

/** Why the tool suggests a note, as data; the words are the client's. `value`: a name, words apart by commas, or a count. */
export const noteReason = z.object({
  kind: z.enum(['same-defect', 'same-machine', 'same-step', 'same-place', 'words', 'one-unit', 'all-units', 'confirmed-before', 'rejected-before']),
  value: z.string(),
}).meta({ id: 'NoteReason' });
export type NoteReason = z.infer<typeof noteReason>;

/** One citation. `confirmedBy` is null while the tool only suggests it: `reasons` say why it does. `reason` is a person's. */
export const noteLink = z.object({
  id, noteId: id, noteTitle: z.string(), noteFix: z.string(), signalId: id.nullable(), incidentId: id.nullable(),
  /** What is cited, in words: characteristic and machine of a signal, defect and customer of an incident. */
  about: z.string(),
  score: finite.nullable(), reason: z.string(), reasons: z.array(noteReason), confirmedBy: z.string().nullable(), confirmedAt: moment.nullable(),
}).meta({ id: 'NoteLink' });
export type NoteLink = z.infer<typeof noteLink>;

export const note = z.object({
  id, ...noteTexts.shape, defectName: z.string(), machine: z.string().nullable(), author: z.string(),
  createdAt: moment, changedAt: moment, revision: z.number().int(), links: z.array(noteLink),
  /** Closed incidents that cite it. */
  helped: z.number().int(),
}).meta({ id: 'Note' });
export type Note = z.infer<typeof note>;

export const createNote = endpoint({
  method: 'POST', path: '/api/notes', feature: 'knowledge', access: investigators, status: 201,
  summary: 'Write a root-cause note', description: 'With signalId or incidentId the note cites it, confirmed by the author.',
  body: noteTexts.extend({ signalId: id.optional(), incidentId: id.optional() }), answer: note, problems: ['not-found'],
});
export const getNote = endpoint({
  method: 'GET', path: '/api/notes/:id', feature: 'knowledge', access: readers,
  summary: 'A root-cause note with what it cites', params: idParams, answer: note, problems: ['not-found'],
});
export const reviseNote = endpoint({
  method: 'PUT', path: '/api/notes/:id', feature: 'knowledge', access: investigators,
  summary: 'Revise a root-cause note', description: 'Send the revision that was read; the old texts stay in the audit trail.',
  params: idParams, body: noteTexts.extend({ revision: z.number().int().positive() }), answer: note, problems: ['not-found', 'changed-meanwhile'],
});

export const addNoteLink = endpoint({
  method: 'POST', path: '/api/notes/:id/links', feature: 'knowledge', access: investigators,
  summary: 'Let a note cite a signal or an incident', params: idParams,
  body: z.object({ signalId: id.optional(), incidentId: id.optional(), reason: z.string().trim().max(500).default('') }),
  answer: note, problems: ['not-found'],
});
export const confirmNoteLink = endpoint({
  method: 'POST', path: '/api/note-links/:id/confirm', feature: 'knowledge', access: investigators,
  summary: 'Confirm a suggested note', params: idParams, answer: noteLink, problems: ['not-found'],
});
export const rejectNoteLink = endpoint({
  method: 'POST', path: '/api/note-links/:id/reject', feature: 'knowledge', access: investigators,
  summary: 'Take a suggested or cited note away', description: 'It is remembered: not suggested again for the same signal or incident, and lower for what is like it.',
  params: idParams, answer: done, problems: ['not-found'],
});

/** A stretch of a text; the marked ones matched. */
export const textPart = z.object({ text: z.string(), marked: z.boolean() });
export type TextPart = z.infer<typeof textPart>;

export const pastFixFields = ['title', 'symptom', 'place', 'cause', 'howToCheck', 'fix', 'verified', 'about'] as const;
export const matchedWord = z.object({
  /** As it was typed. */
  word: z.string(),
  /** the word itself, a word that begins so, a synonym of the trade, or a similarly spelt word. */
  how: z.enum(['word', 'beginning', 'synonym', 'similar']),
  found: z.string(),
  fields: z.array(z.enum(pastFixFields)),
});
export const pastFix = z.object({
  kind: z.enum(['note', 'incident']), id, title: z.array(textPart), excerptOf: z.enum(pastFixFields), excerpt: z.array(textPart), fix: z.string(),
  defect: z.string(), defectName: z.string(), stepKind: z.string().nullable(), machine: z.string().nullable(), customer: z.string().nullable(), state: z.string().nullable(),
  /** A note says how its fix was verified; an incident, how it ended. */
  verified: z.boolean(),
  /** Links to signals and incidents that people confirmed; closed incidents among them. */
  confirmed: z.number().int(), helped: z.number().int(),
  changedAt: moment, score: finite, matched: z.array(matchedWord),
});
export type PastFixHit = z.infer<typeof pastFix>;
const facet = z.array(z.object({ value: z.string(), name: z.string(), count: z.number().int() }));

export const searchPastFixes = endpoint({
  method: 'GET', path: '/api/past-fixes', feature: 'knowledge', access: readers,
  summary: 'Search root-cause notes and incidents',
  description: 'Finds words, beginnings of the last word, synonyms of the trade and misspelt words; without a query the newest come first. A word with two meanings comes back in `ambiguous`: ask again with `meaning`.',
  query: z.object({
    q: z.string().max(400).default(''), defect: code.optional(), step: code.optional(), machine: code.optional(),
    kind: z.enum(['note', 'incident']).optional(), verified: flag.optional(),
    /** Answers to words with two meanings, by their preferred words, apart by commas: "weld overlap,tightness". */
    meaning: z.string().max(200).default('').transform((text) => text.split(',').map((word) => word.trim()).filter((word) => word !== '')),
    take: z.coerce.number().int().min(1).max(100).default(30),
  }),
  answer: z.object({
    total: z.number().int(), hits: z.array(pastFix),
    facets: z.object({ defect: facet, step: facet, machine: facet, kind: facet, verified: facet }),
    /** Words with two meanings that `meaning` answers, and how they were taken. */
    taken: z.array(z.object({ term: z.string(), preferred: z.string() })),
    /** Words with two meanings on a can line: ask, never merge. */
    ambiguous: z.array(z.object({ term: z.string(), meanings: z.array(z.object({ preferred: z.string(), hint: z.string() })) })),
  }),
});

export const defectEntry = z.object({
  code: z.string(), name: z.string(), place: z.string(), where: z.string(), definition: z.string(),
  /** Classes of separate schemes: they serve different purposes and are never translated into each other. */
  severities: z.array(z.object({ scheme: z.string(), class: z.string(), basis: z.string() })),
  upstreamSteps: z.array(z.string()), causes: z.array(z.string()), howToCheck: z.string(), sources: z.array(z.string()),
  /** Steps at which it is likely to begin, likeliest first; weights sum to 1 and are common practice, no source. */
  origins: z.array(z.object({
    step: z.string(), weight: z.number().positive().max(1),
    /** Codes of characteristics in which a fault of this origin would show. */
    characteristics: z.array(z.string()),
    /** What a fault of one only sits on at that step. */
    units: z.enum(['unit', 'lane', 'machine']),
  })),
  /** What the finding may mean for product already made, and who decides about it. */
  caution: z.string(),
}).meta({ id: 'Defect' });
export type DefectEntry = z.infer<typeof defectEntry>;

export const listDefects = endpoint({
  method: 'GET', path: '/api/defects', feature: 'knowledge', access: readers, auditor: 'own',
  summary: 'Defects of can and seam, places of leaks, and step kinds',
  answer: z.object({ defects: z.array(defectEntry), leakPlaces: z.array(z.string()), stepKinds: z.array(z.string()), cautions: z.array(z.string()) }),
});

