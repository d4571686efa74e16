import type { CauseCategory, IncidentState } from '#contract/incident-shapes';
import type { Moment } from './faults.js';

type Span = { from: Moment; to: Moment };
export type SeedComparison = {
  machineCode: string; unitCode: string | null; laneCode: string | null; characteristicCode: string;
  change: string; changedAt: Moment; before: Span; after: Span; expected: 'higher' | 'lower'; verdict: string;
};
/** How an incident went on: what it was caused by, how its effect was shown or why not, and what is due where it goes on. */
export type SeedIncidentLife = {
  incident: string; state: IncidentState;
  causeCategory: CauseCategory | null; causeMachineCode: string | null;
  whys: readonly { question: string; answer: string }[];
  evidence: { contained: string; 'cause-found': string; 'action-taken': string };
  comparison: SeedComparison | null;
  /** Empty where a comparison shows the effect, or the incident is not closed. */
  closedWithout: string;
  dueAt: Moment | null;
};

const none = { contained: '', 'cause-found': '', 'action-taken': '' };
const closed = { state: 'closed', dueAt: null } as const;
const without = { ...closed, comparison: null, whys: [], evidence: none } as const;

/** Two of the twelve go on: one is a day late with its cause, the other still has time. */
export const seedIncidentLives: readonly SeedIncidentLife[] = [
  { ...without, incident: 'INC-01', causeCategory: 'plate', causeMachineCode: 'BM31', closedWithout: 'Edge stretch is tested by hand and not kept as a stream, so there is nothing to compare; three shifts of tests stand in the paper record.' },
  { ...without, incident: 'INC-02', causeCategory: 'handling', causeMachineCode: 'PZ2', closedWithout: 'A cut seam is looked for by eye: 200 cans after the next long stop showed none.' },
  {
    ...closed, incident: 'INC-03', causeCategory: 'plate', causeMachineCode: 'SM3', closedWithout: '',
    whys: [{ question: 'Why did the seam become thicker on all heads?', answer: 'All heads at one minute: nothing on a head, but what all of them get, the end.' }, { question: 'Why is the end thicker?', answer: 'Lot 3307 is of 0.228 mm plate, the order says 0.220 mm.' }],
    evidence: { contained: 'Hold cards 211 to 217', 'cause-found': 'Ten ends of lot 3307 and ten of the lot before, measured', 'action-taken': 'Letter to the end supplier' },
    comparison: {
      machineCode: 'SM3', unitCode: 'H1', laneCode: null, characteristicCode: 'seam-thickness', change: 'End lot 3307 used up, lot 3311 on', changedAt: { day: 33, hour: 12 }, expected: 'lower',
      before: { from: { day: 31, hour: 3 }, to: { day: 33, hour: 12 } }, after: { from: { day: 33, hour: 12 }, to: { day: 37, hour: 12 } }, verdict: 'Seam thickness of head 1 is back where it was before lot 3307.',
    },
  },
  {
    ...closed, incident: 'INC-04', causeCategory: 'plate', causeMachineCode: 'BM11', closedWithout: '',
    whys: [
      { question: 'Why do the cans leak at the juncture?', answer: 'The first millimetres of the weld are not joined: the peel strip snaps there.' }, { question: 'Why is the front cold?', answer: 'The current lay below the cold edge of the window, on half A of body maker 11 only.' },
      { question: 'Why was it below?', answer: 'Coil 7716 has less tin: its cold edge lies 80 A higher, and nobody moved the current.' }, { question: 'Why did nobody see it?', answer: 'The window was tested once a month, not with each coil, and the certificate was filed unread.' },
    ],
    evidence: { contained: 'Hold cards 240 to 268, list of the customer', 'cause-found': 'Tear strips 1 to 20 of coil 7716 and of coil 7721', 'action-taken': 'Window tests of the six coils since' },
    comparison: {
      machineCode: 'BM11', unitCode: null, laneCode: 'A', characteristicCode: 'weld-thickness', change: 'Coil 7716 taken off, coil 7721 on, window test repeated', changedAt: { day: 40, hour: 3 }, expected: 'lower',
      before: { from: { day: 38, hour: 4.5 }, to: { day: 40, hour: 2.5 } }, after: { from: { day: 40, hour: 3 }, to: { day: 47, hour: 16 } }, verdict: 'Weld thickness of half A fell back at the change of coil and stays.',
    },
  },
  {
    ...closed, incident: 'INC-05', causeCategory: 'jam-or-restart', causeMachineCode: 'SM1', closedWithout: '',
    whys: [{ question: 'Why was head 7 loose?', answer: 'Its second-operation lever was bent.' }, { question: 'Why was it bent?', answer: 'A jam at the infeed.' }, { question: 'Why did cans go out?', answer: 'The line was restarted without the teardown that a jam asks for.' }],
    evidence: { contained: 'Hold cards 301 to 309', 'cause-found': 'Lever of head 7, photo in the maintenance book', 'action-taken': 'Instruction at the seamer, signed by all three shifts' },
    comparison: {
      machineCode: 'SM1', unitCode: 'H7', laneCode: null, characteristicCode: 'seam-thickness', change: 'Second-operation lever of head 7 renewed, roll set again', changedAt: { day: 54, hour: 2 }, expected: 'lower',
      before: { from: { day: 53, hour: 7.33 }, to: { day: 54, hour: 1.9 } }, after: { from: { day: 54, hour: 2 }, to: { day: 61, hour: 16 } }, verdict: 'Few teardowns lie in the time of the fault, but each is far above all that followed.',
    },
  },
  {
    ...closed, incident: 'INC-06', causeCategory: 'maintenance', causeMachineCode: 'ST22', closedWithout: '',
    whys: [{ question: 'Why did the can perforate beside the weld?', answer: 'The stripe was too thin to cover it.' }, { question: 'Why was it thin?', answer: 'Powder had built up in the nozzle.' }, { question: 'Why did it build up?', answer: 'The dryer cartridge was spent and let moisture through; it stood on no list.' }],
    evidence: { contained: 'Stock list of week 5', 'cause-found': 'Nozzle and cartridge, weighed', 'action-taken': 'Weekly list of line 2, from then on' },
    comparison: {
      machineCode: 'ST22', unitCode: null, laneCode: null, characteristicCode: 'stripe-film', change: 'Nozzle of stripe applicator 22 cleaned, dryer cartridge renewed', changedAt: { day: 33, hour: 5 }, expected: 'higher',
      before: { from: { day: 26, hour: 0 }, to: { day: 33, hour: 4.5 } }, after: { from: { day: 33, hour: 5.5 }, to: { day: 47, hour: 16 } }, verdict: 'The film is thicker since and does not fall.',
    },
  },
  {
    ...closed, incident: 'INC-07', causeCategory: 'tooling-wear', causeMachineCode: 'SM2', closedWithout: '',
    whys: [{ question: 'Why was the overlap low?', answer: 'The cover hook was short on all heads.' }, { question: 'Why on all heads?', answer: 'The first-operation rolls were worn out together.' }, { question: 'Why were they still on?', answer: 'Rolls were changed at a signal, and nobody counted their hours.' }],
    evidence: { contained: 'Hold cards 322 to 340, teardown of each head', 'cause-found': 'Profile of the old rolls against the new set', 'action-taken': 'Counter of running hours at seamer 2' },
    comparison: {
      machineCode: 'SM2', unitCode: 'H1', laneCode: null, characteristicCode: 'cover-hook', change: 'First-operation roll set renewed on all six heads', changedAt: { day: 59, hour: 1 }, expected: 'higher',
      before: { from: { day: 52, hour: 0 }, to: { day: 59, hour: 0.9 } }, after: { from: { day: 59, hour: 1 }, to: { day: 73, hour: 16 } }, verdict: 'The cover hook of head 1 is longer since the change and level.',
    },
  },
  {
    ...closed, incident: 'INC-08', causeCategory: 'setting', causeMachineCode: 'SL1', closedWithout: '',
    whys: [{ question: 'Why is every third lap wide?', answer: 'Every third blank is 0.06 mm long.' }, { question: 'Why every third?', answer: 'One of three slitter lanes that feed body maker 12 cuts long.' }, { question: 'Why did it?', answer: 'A cutter pair was not locked after grinding and moved.' }],
    evidence: { contained: 'Stacks marked red, hold cards 360 to 364', 'cause-found': 'Blank lengths of lanes 4, 5 and 6', 'action-taken': 'Blank lengths after the reset' },
    comparison: {
      machineCode: 'BM12', unitCode: null, laneCode: 'A', characteristicCode: 'weld-overlap', change: 'Cutter pair of slitter lane 4 reset, marked stacks purged', changedAt: { day: 65, hour: 2 }, expected: 'lower',
      before: { from: { day: 63, hour: 6 }, to: { day: 65, hour: 1.5 } }, after: { from: { day: 65, hour: 2.5 }, to: { day: 67, hour: 16 } }, verdict: 'The mean overlap of half A is back; the period of three is gone.',
    },
  },
  { ...without, incident: 'INC-09', causeCategory: 'customer-side', causeMachineCode: null, closedWithout: 'The cause lies in the packer’s closing machine: nothing was changed here, so nothing can be compared.' },
  { ...without, incident: 'INC-10', causeCategory: 'customer-side', causeMachineCode: null, closedWithout: 'The cause lies in the packer’s retort: nothing was changed here, so nothing can be compared.' },
  { incident: 'INC-11', state: 'contained', causeCategory: null, causeMachineCode: null, whys: [], evidence: { ...none, contained: 'Hold cards 402 to 405' }, comparison: null, closedWithout: '', dueAt: { day: 88, hour: 8 } },
  { incident: 'INC-12', state: 'open', causeCategory: null, causeMachineCode: null, whys: [], evidence: none, comparison: null, closedWithout: '', dueAt: { day: 90, hour: 8 } },
];
