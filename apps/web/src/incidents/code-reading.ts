import type { AnswerOf } from '#contract/endpoint';
import type { CodeMeaning, decodeCanCode } from '#contract/can-codes';
import type { Format } from '../shared/format.js';
import type { IncidentDraft } from './incident-draft.js';

export type Decoded = AnswerOf<typeof decodeCanCode>;
/** A person may put the time in themselves: then the code no longer decides. */
export const meaningKey = ({ from, until, lineId, laneId, machineId, unitId }: CodeMeaning): string => JSON.stringify([from, until, lineId, laneId, machineId, unitId]);

/** What a meaning puts into the form; the moment is shown to the minute, the span is kept whole. */
export function takeMeaning(meaning: CodeMeaning, format: Pick<Format, 'toInput'>): Partial<IncidentDraft> {
  return {
    lineId: String(meaning.lineId), madeAt: format.toInput(meaning.from), madeFrom: meaning.from, madeUntil: meaning.until, codedAtStepId: String(meaning.codedAtStepId),
    laneId: meaning.laneId === null ? '' : String(meaning.laneId), unitId: meaning.unitId === null ? '' : String(meaning.unitId), taken: meaningKey(meaning), marksOf: '',
  };
}

/** What goes when the person changes line or time: a span that the code gave no longer holds. */
export const dropMeaning: Pick<IncidentDraft, 'madeFrom' | 'madeUntil' | 'codedAtStepId' | 'taken'> = { madeFrom: '', madeUntil: '', codedAtStepId: '', taken: '' };

/**
 * Half and head stand on the can whatever the time is: where all meanings agree on them they are taken, also when the person
 * put the time in. Nothing that the code does not tell is emptied, and nothing is taken for another line than the chosen one.
 */
export function takeMarks(meanings: readonly CodeMeaning[], code: string, draft: Pick<IncidentDraft, 'lineId'>): Partial<IncidentDraft> | null {
  const [first] = meanings;
  if (!first || (draft.lineId !== '' && draft.lineId !== String(first.lineId))) return null;
  if (meanings.some(({ lineId, laneId, unitId }) => lineId !== first.lineId || laneId !== first.laneId || unitId !== first.unitId)) return null;
  if (first.laneId === null && first.unitId === null) return null;
  return { lineId: String(first.lineId), marksOf: code, ...(first.laneId === null ? {} : { laneId: String(first.laneId) }), ...(first.unitId === null ? {} : { unitId: String(first.unitId) }) };
}
