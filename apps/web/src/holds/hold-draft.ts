import type { RequestOf } from '#contract/endpoint';
import type { computeHold } from '#contract/holds';
import type { Format } from '../shared/format.js';

export type Question = RequestOf<typeof computeHold>['body'];
export type Basis = NonNullable<Question['untilBasis']>;
/** The form as text, as it was typed; times as the plant's clocks show them. */
export type HoldDraft = {
  lineId: string; stepId: string; suspectStepId: string; machineId: string; unitId: string; laneId: string; from: string; firstBad: string; until: string; basis: Basis; backShortest: string; backLongest: string; forwardShortest: string; forwardLongest: string;
  pallets: string; perMinute: string; boundary: string; prefix: string; reason: string;
};
export type HoldFault = 'line' | 'from' | 'until' | 'firstBad' | 'back' | 'forward' | 'perMinute' | 'boundary' | { palletLine: number };
export const bases: readonly Basis[] = ['next-good', 'stop', 'now', 'stated'];

const idOf = (text: string | null) => (text !== null && /^\d{1,9}$/.test(text) ? text : '');
const moment = (text: string | null) => (text !== null && !Number.isNaN(Date.parse(text)) ? Date.parse(text) : null);

/** What the address brings along. The form shows whole minutes, so the span is rounded outward. */
export function draftFromUrl(params: URLSearchParams, format: Pick<Format, 'toInput'>): HoldDraft {
  const [from, until, firstBad] = [moment(params.get('from')), moment(params.get('until')), moment(params.get('firstBad'))];
  return {
    lineId: idOf(params.get('lineId')), stepId: idOf(params.get('stepId')), suspectStepId: idOf(params.get('suspectStepId')), machineId: idOf(params.get('machineId')), unitId: idOf(params.get('unitId')), laneId: idOf(params.get('laneId')),
    from: from === null ? '' : format.toInput(new Date(from).toISOString()), firstBad: firstBad === null ? '' : format.toInput(new Date(firstBad).toISOString()), until: until === null ? '' : format.toInput(new Date(until + 59_999).toISOString()), basis: bases.find((each) => each === params.get('basis')) ?? 'stated',
    backShortest: '0', backLongest: '0', forwardShortest: '0', forwardLongest: '0', pallets: '', perMinute: '', boundary: '', prefix: 'P', reason: '',
  };
}

const timeOf = (text: string, format: Pick<Format, 'fromInput'>) => format.fromInput(text.trim().replace(' ', 'T'));
const numberOf = (text: string) => (/^\d+([.,]\d+)?$/.test(text.trim()) ? Number(text.trim().replace(',', '.')) : null);

/** Pallets one a line: code; from; until. The times may be left out, but not one of them. */
export function readPallets(text: string, format: Pick<Format, 'fromInput'>): { pallets: NonNullable<Question['pallets']>; badLines: number[] } {
  const badLines: number[] = [];
  const pallets = text.split('\n').flatMap((line, index) => {
    if (line.trim() === '') return [];
    const [code = '', from = '', until = '', ...rest] = line.split(/[;\t]/).map((part) => part.trim());
    const [start, end] = [from === '' ? null : timeOf(from, format), until === '' ? null : timeOf(until, format)];
    if (code === '' || rest.length > 0 || (from !== '' && start === null) || (until !== '' && end === null) || (start === null) !== (end === null)) { badLines.push(index + 1); return []; }
    return [{ code, from: start, until: end }];
  });
  return { pallets, badLines };
}

export const writePallets = (pallets: readonly { code: string; from?: string | null | undefined; until?: string | null | undefined }[], format: Pick<Format, 'wall'>): string =>
  pallets.map(({ code, from, until }) => (from && until ? `${code}; ${format.wall(from)}; ${format.wall(until)}` : code)).join('\n');

/** What the server is asked, or what is not yet as it must be. The server judges once more. */
export function readHoldDraft(draft: HoldDraft, format: Pick<Format, 'fromInput'>): { body: Question | null; faults: HoldFault[] } {
  const faults: HoldFault[] = [];
  const [from, until] = [timeOf(draft.from, format), timeOf(draft.until, format)];
  const firstBadAt = draft.firstBad.trim() === '' ? null : timeOf(draft.firstBad, format);
  const seconds = (['backShortest', 'backLongest', 'forwardShortest', 'forwardLongest'] as const).map((name) => numberOf(draft[name]));
  const [backShortest, backLongest, forwardShortest, forwardLongest] = seconds;
  if (draft.lineId === '') faults.push('line');
  if (from === null) faults.push('from');
  if (until === null || (from !== null && until <= from)) faults.push('until');
  if (draft.firstBad.trim() !== '' && firstBadAt === null) faults.push('firstBad');
  if (backShortest == null || backLongest == null || backLongest < backShortest) faults.push('back');
  if (forwardShortest == null || forwardLongest == null || forwardLongest < forwardShortest) faults.push('forward');
  const perMinute = draft.perMinute.trim() === '' ? null : numberOf(draft.perMinute);
  if (draft.perMinute.trim() !== '' && !perMinute) faults.push('perMinute');
  const boundaryAt = draft.boundary.trim() === '' ? null : timeOf(draft.boundary, format);
  if (draft.boundary.trim() !== '' && boundaryAt === null) faults.push('boundary');
  const { pallets, badLines } = readPallets(draft.pallets, format);
  faults.push(...badLines.map((palletLine) => ({ palletLine })));
  if (faults.length > 0 || from === null || until === null || backShortest == null || backLongest == null || forwardShortest == null || forwardLongest == null) return { body: null, faults };
  const id = (text: string) => (text === '' ? null : Number(text));
  return { faults, body: {
    lineId: Number(draft.lineId), stepId: id(draft.stepId), machineId: id(draft.machineId), unitId: id(draft.unitId), laneId: id(draft.laneId), from, firstBadAt, until, untilBasis: draft.basis,
    back: { shortestSeconds: backShortest, longestSeconds: backLongest }, forward: { shortestSeconds: forwardShortest, longestSeconds: forwardLongest }, pallets,
    figure: perMinute ? { palletsPerMinute: perMinute, boundaryAt, prefix: draft.prefix.trim() } : null,
  } };
}
