import type { AnswerOf } from '#contract/endpoint';
import { type getKeptTrace, type listKeptTraces, type TraceOrigin, trace } from '#contract/traces';

type Row = { id: number; incidentId: number | null; signalId: number | null; keptAt: Date; actor: string; chosen: number | null; comment: string; software: string; answer: unknown };

export function keptRow({ id, keptAt, actor, chosen, comment, software, answer }: Row): AnswerOf<typeof listKeptTraces>['traces'][number] {
  const origin = chosen === null ? null : trace.parse(answer).origins[chosen] ?? null;
  return { id, keptAt: keptAt.toISOString(), actor, chosen, comment, software, origin: origin ? placeName(origin) : null };
}

/** Machine and part in short, or the lot as the log book calls it. */
export const placeName = ({ machine, unit, lane, lot }: TraceOrigin): string => [machine.code, unit?.code ?? lane?.code ?? lot?.text].filter(Boolean).join(' ');

export const keptTrace = (row: Row): AnswerOf<typeof getKeptTrace> => ({ ...keptRow(row), incidentId: row.incidentId, signalId: row.signalId, trace: trace.parse(row.answer) });
