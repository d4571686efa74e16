import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { engineers, readers } from './roles.js';
import { id, idParams, moment } from './shapes.js';

const term = z.string().trim().min(1).max(80);
const reason = z.string().trim().min(3, 'a reason of at least 3 characters').max(1000);
const words = { preferred: term, others: z.array(term).min(1).max(40) };

export const synonymGroup = z.object({ id, ...words, retired: z.boolean(), author: z.string(), changedAt: moment, revision: z.number().int() }).meta({ id: 'SynonymGroup' });
export type SynonymGroupView = z.infer<typeof synonymGroup>;

export const listSynonyms = endpoint({
  method: 'GET', path: '/api/synonyms', feature: 'knowledge', access: readers,
  summary: 'Words that mean the same in a search', description: 'Those of the trade (common practice, fixed), those that the plant added, and words with two meanings, which are asked about and never merged.',
  answer: z.object({
    trade: z.array(z.object({ preferred: z.string(), others: z.array(z.string()) })), own: z.array(synonymGroup),
    ambiguous: z.array(z.object({ term: z.string(), meanings: z.array(z.object({ preferred: z.string(), hint: z.string() })) })),
  }),
});
export const createSynonymGroup = endpoint({
  method: 'POST', path: '/api/synonyms', feature: 'knowledge', access: engineers, status: 201,
  summary: 'Add words that mean the same', description: 'With the preferred word of a trade group the words are added to that group. A word belongs to one group only, and a word with two meanings to none.',
  body: z.object({ ...words, reason }), answer: synonymGroup, problems: ['already-there'],
});
export const changeSynonymGroup = endpoint({
  method: 'PUT', path: '/api/synonyms/:id', feature: 'knowledge', access: engineers,
  summary: 'Change or retire words that mean the same', description: 'Send the revision that was read.',
  params: idParams, body: z.object({ ...words, retired: z.boolean(), revision: z.number().int().positive(), reason }), answer: synonymGroup, problems: ['not-found', 'already-there', 'changed-meanwhile'],
});

export const synonymRevision = z.object({ revision: z.number().int().positive(), preferred: z.string(), others: z.array(z.string()), retired: z.boolean(), author: z.string(), at: moment, /** Empty where none was asked for yet. */ reason: z.string() }).meta({ id: 'SynonymRevision' });
export const listSynonymRevisions = endpoint({
  method: 'GET', path: '/api/synonyms/:id/revisions', feature: 'knowledge', access: readers,
  summary: 'Every state that words with the same meaning were in, newest first, with who, when and why', params: idParams, answer: z.object({ revisions: z.array(synonymRevision) }), problems: ['not-found'],
});
