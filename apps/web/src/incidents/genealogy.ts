import { bodyEndsOf, type BodyEnd, canWithWeldEnd, cansBetweenLaneFaults } from '#canmaking/line/genealogy';
import type { Incident } from '#contract/incidents';
import type { PlantTree } from '#contract/plant';

type Line = PlantTree['lines'][number];
export type Genealogy = {
  /** `of`: cans of one body; place from 1, counted from the leading end, null = not on record. */
  body: { of: number; place: number | null; lane: string | null };
  ends: { leading: BodyEnd; trailing: BodyEnd } | null;
  /** Which half a fault of one weld end falls on. */
  halves: { front: string; back: string } | null;
  /** Lanes of the slitter for each body maker, and after how many cans of it a fault of one lane comes back; null = not set up, or not shared out evenly. */
  slitter: { lanes: number; cans: number } | null;
  /** Units of the seamers and flangers: the known one, or how many are possible. */
  units: { kind: 'seamer' | 'flanger'; known: { machine: string; unit: string } | null; possible: number }[];
};

/** What is known of one can of an incident from its marks and the set-up of its line. What is not known stays so. */
export function genealogyOf(incident: Pick<Incident, 'laneId' | 'unitId' | 'unit' | 'unitMachine'>, line: Pick<Line, 'lanes' | 'steps'>): Genealogy {
  const lanes = [...line.lanes].sort((a, b) => a.position - b.position);
  const cansPerBody = Math.max(1, lanes.length);
  const found = lanes.findIndex(({ id }) => id === incident.laneId);
  const place = found < 0 ? null : found;
  const ends = bodyEndsOf(lanes.length === 0 ? 0 : place, cansPerBody);
  const machinesOf = (kind: string) => line.steps.filter((step) => step.kind === kind).flatMap(({ machines }) => machines.filter(({ retired }) => !retired));
  const [slitterLanes, makers] = [machinesOf('slitter')[0]?.units.length ?? 0, machinesOf('body-maker').length];
  const shared = slitterLanes > 1 && makers > 0 && slitterLanes % makers === 0 ? slitterLanes / makers : null;
  const codeAt = (index: number) => lanes[index]?.code ?? '';
  return {
    body: { of: cansPerBody, place: lanes.length === 0 ? 1 : place === null ? null : place + 1, lane: place === null ? null : codeAt(place) },
    ends: ends.known ? ends.value : null,
    halves: lanes.length > 1 ? { front: codeAt(canWithWeldEnd('weld-front', cansPerBody)), back: codeAt(canWithWeldEnd('weld-back', cansPerBody)) } : null,
    slitter: shared === null ? null : { lanes: shared, cans: cansBetweenLaneFaults(shared, cansPerBody) },
    units: (['seamer', 'flanger'] as const).map((kind) => {
      // A retired machine made cans, too: the mark on the can is looked for among all.
      const all = line.steps.filter((step) => step.kind === kind).flatMap(({ machines }) => machines.flatMap(({ units }) => units));
      const marked = incident.unitId !== null && all.some(({ id }) => id === incident.unitId) && incident.unit !== null;
      return { kind, known: marked ? { machine: incident.unitMachine ?? '', unit: incident.unit ?? '' } : null, possible: machinesOf(kind).reduce((sum, { units }) => sum + units.length, 0) };
    }),
  };
}
