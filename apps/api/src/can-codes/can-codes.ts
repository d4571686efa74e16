import { type CodePattern, parsePattern } from '#canmaking/can-code/parse-pattern';
import { printCode } from '#canmaking/can-code/print-code';
import { letterOfShift } from '#canmaking/can-code/shift-hours';
import { shiftAt } from '#canmaking/line/shifts';
import type { CanCodePattern, decodeCanCode, previewCanCode, saveCanCodePattern } from '#contract/can-codes';
import type { AnswerOf, InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { refuseDuplicate } from '../platform/unique.js';
import type { Tx } from '../platform/work.js';
import { insertPattern, listCodedLines, listPatterns, type PlantLine, retirePattern, type StoredPattern } from './patterns.store.js';
import { type CodesRead, readCode } from './read-code.js';

type Person = Actor & { userId: number };

/** The patterns with what they are at this moment. */
export async function patternsView(tx: Tx, plantId: number, now: Date): Promise<CanCodePattern[]> {
  return (await listPatterns(tx, plantId)).map(({ retiredAt, ...row }) => ({ ...row, retiredAt: retiredAt?.toISOString() ?? null, effectiveFrom: row.effectiveFrom.toISOString(), effectiveUntil: row.effectiveUntil?.toISOString() ?? null, createdAt: row.createdAt.toISOString(), state: stateOf({ ...row, retiredAt }, now) }));
}

function stateOf({ effectiveFrom, effectiveUntil, retiredAt }: Pick<StoredPattern, 'effectiveFrom' | 'effectiveUntil' | 'retiredAt'>, now: Date): CanCodePattern['state'] {
  if (effectiveUntil !== null && effectiveUntil <= now) return retiredAt !== null && retiredAt.getTime() === effectiveUntil.getTime() ? 'retired' : 'superseded';
  return effectiveFrom > now ? 'planned' : 'in-force';
}

/** Every pattern of the plant, or of one line, tried on the code; the latest meanings first. */
export async function decodeForPlant(tx: Tx, plantId: number, { code, receivedAt, lineId }: InputOf<typeof decodeCanCode>['query']): Promise<AnswerOf<typeof decodeCanCode>> {
  const lines = await listCodedLines(tx, plantId);
  const patterns = (await listPatterns(tx, plantId)).filter((pattern) => lineId === undefined || pattern.lineId === lineId);
  const read: CodesRead = { meanings: [], refusals: [] };
  for (const pattern of patterns) {
    const parsed = parsePattern(pattern.pattern);
    const line = lines.find(({ id }) => id === pattern.lineId);
    if (!parsed.ok || !line) throw new Problem('internal');
    const one = readCode({ id: pattern.id, text: pattern.pattern, parsed: parsed.pattern, codedAtStepId: pattern.codedAtStepId, clockMinutes: pattern.clockMinutes, from: pattern.effectiveFrom, until: pattern.effectiveUntil }, line, code, new Date(receivedAt));
    read.meanings.push(...one.meanings);
    read.refusals.push(...one.refusals);
  }
  return { ...read, meanings: read.meanings.sort((a, b) => Date.parse(b.from) - Date.parse(a.from)), tried: patterns.length };
}

/** A pattern that is not saved yet: its first fault, or what it makes of the example and what it would print now. */
export async function tryPattern(tx: Tx, plantId: number, body: InputOf<typeof previewCanCode>['body'], now: Date): Promise<AnswerOf<typeof previewCanCode>> {
  const line = await lineWithStep(tx, plantId, body);
  const parsed = parsePattern(body.pattern);
  if (!parsed.ok) return { fault: parsed.fault, printed: [], meanings: [], refusals: [] };
  const printed = printedNow(parsed.pattern, line, body.codedAtStepId, now);
  if (body.example === '') return { fault: null, printed, meanings: [], refusals: [] };
  return { fault: null, printed, ...readCode({ id: null, text: body.pattern, parsed: parsed.pattern, codedAtStepId: body.codedAtStepId, clockMinutes: body.clockMinutes, from: null, until: null }, line, body.example, now) };
}

/** One code a lane and the shift that is on (A where none is set up), with the first machine and unit that the pattern can mean; none where it asks for what the line does not have. */
function printedNow(pattern: CodePattern, line: PlantLine, stepId: number, now: Date): string[] {
  const atStep = line.machines.filter((machine) => machine.stepId === stepId);
  const withUnits = atStep.find(({ units }) => units.length > 0) ?? line.machines.find(({ units }) => units.length > 0);
  const asksForUnit = pattern.parts.some((part) => part.kind === 'field' && part.field === 'unit');
  const machine = asksForUnit ? withUnits : atStep[0];
  const lanes = line.lanes.length === 0 ? [null] : line.lanes.map(({ code }) => code);
  const shift = line.shifts.length === 0 ? 'A' : letterOfShift(line.shifts, shiftAt(line.shifts, now.getTime(), line.timeZone) ?? '');
  const codes = lanes.flatMap((lane) => printCode(pattern, now.getTime(), line.timeZone, { line: line.code, lane, machine: machine?.code ?? null, unit: machine?.units[0]?.code ?? null, shift }) ?? []);
  return [...new Set(codes)];
}

/** Saves a version whose example reads as the person saw it; otherwise somebody would trust a pattern that nobody looked at. */
export async function savePattern(tx: Tx, actor: Person, body: InputOf<typeof saveCanCodePattern>['body'], now: Date): Promise<number> {
  const { confirmed, ...given } = body;
  const { fault, meanings, refusals } = await tryPattern(tx, actor.plantId, body, now);
  if (fault) throw new Problem('invalid-input', undefined, [{ field: 'pattern', expected: `at character ${fault.position}: ${fault.expected}` }]);
  if (meanings.length === 0) throw new Problem('invalid-input', undefined, [{ field: 'example', expected: `a code that the pattern reads: ${refusals.map((refusal) => (refusal.kind === 'does-not-fit' ? `at character ${refusal.position} ${refusal.expected}` : refusal.kind.replaceAll('-', ' '))).join('; ')}` }]);
  const agrees = meanings.some((one) => Date.parse(one.from) === Date.parse(confirmed.from) && Date.parse(one.until) === Date.parse(confirmed.until) && one.laneId === confirmed.laneId && one.machineId === confirmed.machineId && one.unitId === confirmed.unitId);
  if (!agrees) throw new Problem('invalid-input', undefined, [{ field: 'confirmed', expected: `the meaning that the pattern gives to the example: ${meanings.map(({ from, until }) => `${from} to ${until}`).join(', or ')}` }]);
  const effectiveFrom = new Date(body.effectiveFrom);
  const id = await refuseDuplicate(insertPattern(tx, { plantId: actor.plantId, userId: actor.userId }, { ...given, effectiveFrom }, now), 'effectiveFrom', 'a moment from which no other pattern of this line holds');
  await record(tx, actor, 'can-code-pattern.made', `can-code pattern ${id}`, { after: body });
  return id;
}

export async function retire(tx: Tx, actor: Person, id: number, reason: string, now: Date): Promise<number> {
  const [before] = await listPatterns(tx, actor.plantId, id);
  if (!before) throw new Problem('not-found', `There is no can-code pattern ${id}.`);
  if (!(await retirePattern(tx, actor.plantId, id, { by: actor.name, reason }, now))) throw new Problem('wrong-state', 'This pattern was retired before.');
  await record(tx, actor, 'can-code-pattern.retired', `can-code pattern ${id}`, { before: { pattern: before.pattern }, after: { reason } });
  return id;
}

async function lineWithStep(tx: Tx, plantId: number, { lineId, codedAtStepId }: { lineId: number; codedAtStepId: number }): Promise<PlantLine> {
  const line = (await listCodedLines(tx, plantId)).find(({ id }) => id === lineId);
  if (!line) throw new Problem('not-found', `There is no line ${lineId}.`);
  if (!line.steps.some(({ id }) => id === codedAtStepId)) throw new Problem('invalid-input', undefined, [{ field: 'codedAtStepId', expected: `a step of line ${line.code}` }]);
  return line;
}
