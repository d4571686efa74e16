import type { PlantTree } from '#contract/plant';
import type { PlantSetUp } from '#contract/plant-set-up';
import { addLine, addMachine, addStep, editMachine, renameLine } from '../../plant/set-up.js';
import { putStretches } from '../../plant/stretches.js';
import { refuseAt, type SetUpRun } from './set-up-run.js';

type Line = PlantSetUp['lines'][number];
type PlantLine = PlantTree['lines'][number];

/** Lines with their lanes, steps, machines, units and ways. Steps are matched by kind in their order. */
export async function importLines(run: SetUpRun, lines: readonly Line[]): Promise<void> {
  for (const [row, line] of lines.entries()) {
    const present = (await run.tree()).lines.find(({ code }) => code === line.code);
    const lanes = line.lanes.filter((lane) => !present?.lanes.some(({ code }) => code === lane.code));
    const before = present && { name: present.name, lanes: present.lanes.map(({ code }) => code) };
    const after = { name: line.name, lanes: [...(present?.lanes ?? []), ...lanes].map(({ code }) => code) };
    await run.row('lines', row, line.code, before, after, 'make', () => (present ? renameLine(run.work, run.actor, present.id, { name: line.name, addLanes: lanes }) : addLine(run.work, run.actor, { code: line.code, name: line.name, lanes: line.lanes })));
    const steps = await importSteps(run, row, line);
    for (const [place, step] of line.steps.entries()) await importMachines(run, `lines.${row}.steps.${place}.machines`, step.machines, steps[place] ?? 0, line.code);
    await importStretches(run, row, line, steps);
  }
}

const lineOf = async (run: SetUpRun, code: string): Promise<PlantLine> => {
  const line = (await run.tree()).lines.find((each) => each.code === code);
  if (!line) throw new RangeError(`lineOf: needs a line of the plant, "${code}" given`);
  return line;
};

/** Answers the id of each step of the file. */
async function importSteps(run: SetUpRun, row: number, line: Line): Promise<number[]> {
  const ids: number[] = [];
  for (const [place, step] of line.steps.entries()) {
    const { id: lineId, steps } = await lineOf(run, line.code);
    const known = steps.find(({ id, kind }) => kind === step.kind && !ids.includes(id));
    await run.row(`lines.${row}.steps`, place, `${line.code} ${step.kind}`, known && {}, known ? {} : { kind: step.kind }, 'make', async () => { ids.push((await addStep(run.work, run.actor, { lineId, kind: step.kind })).id); });
    if (known) ids.push(known.id);
  }
  return ids;
}

async function importMachines(run: SetUpRun, section: string, machines: Line['steps'][number]['machines'], stepId: number, lineCode: string): Promise<void> {
  for (const [row, { code, name, retired, units }] of machines.entries()) {
    const places = (await run.tree()).lines.flatMap((line) => line.steps.flatMap((step) => step.machines.map((machine) => ({ machine, step, line }))));
    const present = places.find(({ machine }) => machine.code === code);
    if (present && present.step.id !== stepId) refuseAt(`${section}.${row}.code`, `a machine of this step of line ${lineCode}: "${code}" stands at the step ${present.step.kind} of line ${present.line.code}`);
    const had = present?.machine.units.map((unit) => unit.code) ?? [];
    const more = units.filter((unit) => !had.includes(unit));
    await run.row(section, row, code, present && { name: present.machine.name, retired: present.machine.retired, units: had }, { name, retired, units: [...had, ...more] }, 'make', async () => {
      if (present) return editMachine(run.work, run.actor, present.machine.id, { name, retired, addUnits: more }, run.now);
      const { id } = await addMachine(run.work, run.actor, { stepId, code, name, units });
      return retired ? editMachine(run.work, run.actor, id, { name, retired, addUnits: [] }, run.now) : undefined;
    });
  }
}

/** A way of the file takes the place of the one that begins at the same step; others stay. */
async function importStretches(run: SetUpRun, row: number, line: Line, steps: readonly number[]): Promise<void> {
  const { id, clockMinutes, stretches } = await lineOf(run, line.code);
  const given = line.stretches.map(({ fromStep, toStep, ...rest }, place) => {
    const [fromStepId, toStepId] = [steps[fromStep - 1], steps[toStep - 1]];
    if (fromStepId === undefined) return refuseAt(`lines.${row}.stretches.${place}.fromStep`, `a step of the line, 1 to ${steps.length}`);
    if (toStepId === undefined) return refuseAt(`lines.${row}.stretches.${place}.toStep`, `a step of the line, 1 to ${steps.length}`);
    return { fromStepId, toStepId, shortestSeconds: rest.shortestSeconds, longestSeconds: rest.longestSeconds, leastCans: rest.leastCans, mostCans: rest.mostCans };
  });
  const merged = [...stretches.filter((stretch) => !given.some(({ fromStepId }) => fromStepId === stretch.fromStepId)), ...given];
  const order = (list: readonly (typeof given)[number][]) => [...list].sort((a, b) => a.fromStepId - b.fromStepId).map((each) => [each.fromStepId, each.toStepId, each.shortestSeconds, each.longestSeconds, each.leastCans, each.mostCans]);
  if (JSON.stringify([clockMinutes, order(stretches)]) === JSON.stringify([line.clockMinutes, order(merged)])) return;
  await run.inPlace(`lines.${row}`, async () => {
    await putStretches(run.work, run.actor, id, { clockMinutes: line.clockMinutes, stretches: merged });
    run.report.changes.push({ section: `lines.${row}.stretches`, row: 0, name: line.code, act: stretches.length === 0 ? 'make' : 'change', fields: [{ field: 'clockMinutes', before: String(clockMinutes), after: String(line.clockMinutes) }, { field: 'stretches', before: String(stretches.length), after: String(merged.length) }] });
  });
}
