import { cellKey, type EntryDraft, settled, type Sheet, stepOf, widened, withSteps } from './entry-draft.js';
import { closeStep, type History, noHistory, remember, takeStep } from './entry-history.js';

export type Place = { code: string; place: number };
/** The entry, what can be taken back, and the cell that the last step back or forward was about. */
export type EntryState = { draft: EntryDraft; history: History; turnedTo: Place | null };

export type EntryAct =
  | { do: 'type'; code: string; place: number; text: string }
  | { do: 'leave'; code: string; place: number }
  | { do: 'leave-out'; cells: readonly Place[]; reason: string }
  | { do: 'second'; code: string; place: number; text: string }
  | { do: 'count'; code: string; count: EntryDraft['counts'][string] }
  | { do: 'change'; change: Partial<Pick<EntryDraft, 'takenAt' | 'inspector' | 'note' | 'gauges' | 'offline' | 'photos'>> }
  | { do: 'widen'; sheet: Sheet; units: number[] }
  | { do: 'undo' | 'redo' }
  | { do: 'begin'; draft: EntryDraft };

export const beginState = (draft: EntryDraft): EntryState => ({ draft, history: noHistory, turnedTo: null });

/** Everything that happens to an entry while it is typed. */
export const entryReducer = (sheet: Sheet) => (state: EntryState, act: EntryAct): EntryState => {
  const { draft, history } = state;
  switch (act.do) {
    case 'type': {
      const step = stepOf(draft, act.code, act.place);
      return { draft: withSteps(draft, [{ ...step, text: act.text }]), history: remember(history, [step], cellKey(act.code, act.place)), turnedTo: null };
    }
    case 'leave': {
      const entry = sheet.measured.find(({ code }) => code === act.code);
      const text = entry ? settled(draft, entry, act.place) : null;
      const step = stepOf(draft, act.code, act.place);
      return { ...state, draft: text === null || text === step.text ? draft : withSteps(draft, [{ ...step, text }]), history: closeStep(history) };
    }
    case 'leave-out': {
      const steps = act.cells.map(({ code, place }) => stepOf(draft, code, place));
      return { draft: withSteps(draft, steps.map((step) => ({ ...step, text: '', skip: act.reason }))), history: remember(closeStep(history), steps, null), turnedTo: null };
    }
    case 'second': {
      const { [cellKey(act.code, act.place)]: _old, ...others } = draft.second;
      return { ...state, draft: { ...draft, second: act.text.trim() === '' ? others : { ...others, [cellKey(act.code, act.place)]: act.text } } };
    }
    case 'count': return { ...state, draft: { ...draft, counts: { ...draft.counts, [act.code]: act.count } } };
    case 'change': return { ...state, draft: { ...draft, ...act.change } };
    case 'widen': return { ...state, draft: widened(act.sheet, draft, act.units) };
    case 'begin': return beginState(act.draft);
    default: {
      const taken = takeStep(history, act.do, (step) => stepOf(draft, step.code, step.place));
      if (!taken) return state;
      const [first] = taken.apply;
      return { draft: withSteps(draft, taken.apply), history: taken.history, turnedTo: first ? { code: first.code, place: first.place } : null };
    }
  }
};
