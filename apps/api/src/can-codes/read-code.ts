import { decode } from '#canmaking/can-code/decode';
import type { CodePattern } from '#canmaking/can-code/parse-pattern';
import type { CodeMeaning, CodeRefusal } from '#contract/can-codes';
import type { PlantLine } from './patterns.store.js';

/** A pattern as it is applied; `from` and `until` bound the cans that carry it. */
export type AppliedPattern = { id: number | null; text: string; parsed: CodePattern; codedAtStepId: number; clockMinutes: number; from: Date | null; until: Date | null };
export type CodesRead = { meanings: CodeMeaning[]; refusals: CodeRefusal[] };

const minute = 60_000;

/** What one pattern of a line makes of a code. The clock of the printer may be ahead: so much may a can seem to be younger than its receipt. */
export function readCode(pattern: AppliedPattern, line: PlantLine, code: string, receivedAt: Date): CodesRead {
  const about = { patternId: pattern.id, pattern: pattern.text, line: line.code };
  const { meanings, refusals } = decode(pattern.parsed, code, {
    timeZone: line.timeZone, before: receivedAt.getTime() + pattern.clockMinutes * minute, firstRecord: line.firstRecord === null ? null : Date.parse(line.firstRecord), line, printedAtStepId: pattern.codedAtStepId, shifts: line.shifts,
  });
  const inForce = meanings.filter(({ from, until }) => (pattern.from === null || until > pattern.from.getTime() - pattern.clockMinutes * minute) && (pattern.until === null || from < pattern.until.getTime() + pattern.clockMinutes * minute));
  const outside = meanings.filter((meaning) => !inForce.includes(meaning));
  const machine = (id: number | null) => line.machines.find((candidate) => candidate.id === id) ?? null;
  return {
    meanings: inForce.map(({ from, until, ...meaning }) => ({
      ...meaning, from: new Date(from).toISOString(), until: new Date(until).toISOString(), cautions: [...meaning.cautions], line: line.code, lineName: line.name,
      lane: line.lanes.find(({ id }) => id === meaning.laneId)?.code ?? null, machine: machine(meaning.machineId)?.code ?? null, unit: machine(meaning.machineId)?.units.find(({ id }) => id === meaning.unitId)?.code ?? null,
      patternId: pattern.id, codedAtStepId: pattern.codedAtStepId, codedAtStepKind: line.steps.find(({ id }) => id === pattern.codedAtStepId)?.kind ?? '', clockMinutes: pattern.clockMinutes,
    })),
    refusals: [...refusals.map((refusal) => ({ ...about, ...refusal })), ...outside.slice(0, 1).map(({ from }) => ({ ...about, kind: 'not-in-force' as const, named: new Date(from).toISOString() }))],
  };
}
