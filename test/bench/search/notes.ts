import { findDefect } from '#canmaking/defects/taxonomy';
import type { StepKind } from '#canmaking/line/steps';
import type { PastFix } from '../../../apps/api/src/knowledge/past-fix.js';
import type { Story } from './story.js';
import { germanStories } from './stories-german.js';
import { otherStories } from './stories-other.js';
import { seamStories } from './stories-seam.js';
import { weldStories } from './stories-weld.js';

export const stories: readonly Story[] = [...weldStories, ...seamStories, ...otherStories, ...germanStories];

const UNITS: Partial<Record<StepKind, string>> = { seamer: 'head', flanger: 'spindle', tester: 'pocket', slitter: 'lane', necker: 'spindle' };
const MACHINES: Record<StepKind, readonly string[]> = {
  slitter: ['SL1', 'SL2', 'SL3'], 'body-maker': ['BM11', 'BM12', 'BM21', 'BM31'], 'stripe-applicator': ['ST11', 'ST22', 'ST31'], 'curing-oven': ['CO1', 'CO2', 'CO3'], parter: ['PA1', 'PA2'],
  necker: ['NK1', 'NK2'], flanger: ['FL1', 'FL2', 'FL3'], beader: ['BD1', 'BD2'], seamer: ['SM1', 'SM2', 'SM3'], tester: ['TE1', 'TE2'], palletizer: ['PZ1', 'PZ2'],
};
const SHIFTS = ['early shift', 'late shift', 'night shift', 'Monday start'];
const AFTER = ['after the weekend stop', 'after the size change', 'after the long maintenance', 'after a jam', 'since the new crew'];
const AMOUNTS = ['0.02', '0.03', '0.04', '0.05', '0.06', '0.08', '0.10'];

/** The same for the same number: takes one of a list by a step of its own, so that notes of one story differ in more than one place. */
const pick = <Value>(from: readonly Value[], number: number, step: number): Value => from[(number * step + Math.floor(number / from.length)) % from.length] as Value;

/** Note `telling` (from 0) of a story, with the id that it gets in the collection. */
function tell(story: Story, telling: number, id: number): PastFix {
  const machine = pick(MACHINES[story.step], telling, 1);
  const unit = `${UNITS[story.step] ?? 'station'} ${1 + (telling * 3 + id) % 8}`;
  const fill = (text: string) => text.replaceAll('{unit}', unit).replaceAll('{lot}', `${['K', 'R', 'T', 'V'][id % 4]}${100 + (id * 37) % 900}`)
    .replaceAll('{shift}', pick(SHIFTS, id, 1)).replaceAll('{after}', pick(AFTER, id, 2)).replaceAll('{much}', pick(AMOUNTS, id, 3));
  const named = story.step.replaceAll('-', ' ');
  const defectName = findDefect(story.defect)?.name ?? story.defect;
  return {
    kind: 'note', id, defect: story.defect, defectName, stepKind: story.step, machine, customer: null, state: null, changedAt: new Date(Date.UTC(2026, 0, 1) - ((id * 89) % 900) * 86_400_000),
    texts: {
      title: fill(pick(story.titles, telling, 1)), symptom: fill(pick(story.symptoms, telling + (telling >> 1), 1)), place: `${story.place}, ${machine} ${unit}`, cause: fill(pick(story.causes, telling + (telling >> 2), 1)),
      howToCheck: fill(story.check), fix: fill(pick(story.fixes, telling, 1)), verified: telling % 5 === 4 ? '' : fill(story.verified), about: `${defectName} ${named} ${machine} ${named} ${machine.slice(-1)}`,
    },
  };
}

/** `tellings` notes of each story, ids from `first`; which story a note tells is what the judgements speak of. */
export function tellStories(tellings: number, first: number): { notes: PastFix[]; storyOf: Map<number, string> } {
  const storyOf = new Map<number, string>();
  const notes = stories.flatMap((story, place) => Array.from({ length: tellings }, (_none, telling) => {
    const id = first + place * tellings + telling;
    storyOf.set(id, story.key);
    return tell(story, telling, id);
  }));
  return { notes, storyOf };
}
