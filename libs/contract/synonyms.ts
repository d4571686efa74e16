import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { engineers, readers } from './roles.js';
import { id, idParams, moment } from './shapes.js';

const term = z.string().trim().min(1).max(80);
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
  body: z.object(words), answer: synonymGroup, problems: ['already-there'],
});
export const changeSynonymGroup = endpoint({
  method: 'PUT', path: '/api/synonyms/:id', feature: 'knowledge', access: engineers,
  summary: 'Change or retire words that mean the same', description: 'Send the revision that was read.',
  params: idParams, body: z.object({ ...words, retired: z.boolean(), revision: z.number().int().positive() }), answer: synonymGroup, problems: ['not-found', 'already-there', 'changed-meanwhile'],
});
