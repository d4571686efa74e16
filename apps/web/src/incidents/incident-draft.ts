import type { Format } from '../shared/format.js';
import type { NewIncidentBody } from './incidents.queries.js';

/** The form as text, as it was typed; times as the plant's clocks show them. */
export type IncidentDraft = {
  kind: 'complaint' | 'in-house'; productId: string; lineId: string; customer: string; canCode: string; madeAt: string; receivedAt: string;
  cansComplained: string; cansExamined: string; cansLeaking: string; leakPlace: string; defect: string; description: string; containment: string; dueAt: string;
  /** What the code said, whole, and which meaning was taken; empty = the person put the time in. Half and head may be known without a code. */
  madeFrom: string; madeUntil: string; codedAtStepId: string; taken: string; laneId: string; unitId: string;
  /** The code that half and head were taken from; empty = the person put them in. */
  marksOf: string;
};
export type DraftFault = 'needed' | 'time' | 'cans' | 'leaking';
export type DraftField = keyof IncidentDraft;

export const emptyDraft = (now: string): IncidentDraft => ({
  kind: 'complaint', productId: '', lineId: '', customer: '', canCode: '', madeAt: '', receivedAt: now, cansComplained: '', cansExamined: '0', cansLeaking: '0', leakPlace: '', defect: '', description: '', containment: '', dueAt: '', madeFrom: '', madeUntil: '', codedAtStepId: '', taken: '', laneId: '', unitId: '', marksOf: '',
});

const cansOf = (text: string): number | null => (/^\d{1,9}$/.test(text.trim()) ? Number(text) : null);

/** What the server is asked to store, or which fields are not yet as they must be. The server judges once more. */
export function readDraft(draft: IncidentDraft, format: Pick<Format, 'fromInput'>): { body: NewIncidentBody | null; faults: Partial<Record<DraftField, DraftFault>> } {
  const faults: Partial<Record<DraftField, DraftFault>> = {};
  for (const field of ['productId', 'lineId', 'customer', 'leakPlace', 'defect', 'description'] as const) if (draft[field].trim() === '') faults[field] = 'needed';
  const [madeAt, receivedAt] = [draft.madeFrom || format.fromInput(draft.madeAt), format.fromInput(draft.receivedAt)];
  if (madeAt === null) faults.madeAt = 'time';
  if (receivedAt === null) faults.receivedAt = 'time';
  const dueAt = draft.dueAt === '' ? null : format.fromInput(draft.dueAt);
  if (draft.dueAt !== '' && dueAt === null) faults.dueAt = 'time';
  const [cansComplained, cansExamined, cansLeaking] = [cansOf(draft.kind === 'in-house' && draft.cansComplained.trim() === '' ? '0' : draft.cansComplained), cansOf(draft.cansExamined), cansOf(draft.cansLeaking)];
  if (cansComplained === null || (cansComplained === 0 && draft.kind === 'complaint')) faults.cansComplained = 'cans';
  if (cansExamined === null) faults.cansExamined = 'cans';
  if (cansLeaking === null) faults.cansLeaking = 'cans';
  else if (cansExamined !== null && cansLeaking > cansExamined) faults.cansLeaking = 'leaking';
  if (Object.keys(faults).length > 0 || madeAt === null || receivedAt === null || cansComplained === null || cansExamined === null || cansLeaking === null) return { body: null, faults };
  const { kind, customer, canCode, leakPlace, defect, description, containment } = draft;
  const id = (text: string) => (text === '' ? null : Number(text));
  return { body: { kind, customer, canCode, leakPlace, defect, description, containment, productId: Number(draft.productId), lineId: Number(draft.lineId), madeAt, madeUntil: draft.madeUntil || null, codedAtStepId: id(draft.codedAtStepId), laneId: id(draft.laneId), unitId: id(draft.unitId), receivedAt, cansComplained, cansExamined, cansLeaking, dueAt }, faults };
}
