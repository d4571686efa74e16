/** A moment of the scenario: hours after the first shift of a day began. */
export type Moment = { day: number; hour: number };

/** What a fault does to one characteristic, in its unit. A ramp grows from nothing at the beginning to `size` at the end. */
export type Effect = {
  characteristicCode: string; shape: 'step' | 'ramp'; size: number;
  /** All positions when left out. */
  positions?: string[];
  /** Only every n-th consecutive can: a slitter lane. */
  everyNthCan?: number;
};

export type FaultTruth = {
  code: string; title: string; lineCode: string; machineCode: string;
  /** All units when left out. */
  unitCodes?: string[];
  laneCode?: string;
  begins: Moment;
  /** Null: still there at the end. */
  ends: Moment | null;
  effects: Effect[];
  /** Derived characteristics that move with it. */
  derived: string[];
  trueCause: string;
  /** Air-test rejects that it adds, parts per million of the line's cans. */
  testerPpm: number;
  complaintIncident: string | null;
  /** What the log book says at its beginning and end. Absent where nobody wrote anything. */
  beginEvent?: { kind: LineEventKind; machineCode: string; text: string; minutes?: number };
  endEvent?: { kind: LineEventKind; machineCode: string; text: string; minutes?: number };
};

export const lineEventKinds = ['coil-change', 'wire-change', 'roll-change', 'tooling-set', 'wash-down', 'stop', 'shift-change', 'setting', 'end-lot-change'] as const;
export type LineEventKind = (typeof lineEventKinds)[number];

/** Ground truth, in order of beginning. Everything here is invented. */
export const faultTruths: FaultTruth[] = [
  {
    code: 'F01', title: 'Stripe nozzle builds up', lineCode: 'L2', machineCode: 'ST22',
    begins: { day: 24, hour: 2 }, ends: { day: 33, hour: 5 },
    effects: [{ characteristicCode: 'stripe-film', shape: 'ramp', size: -22 }], derived: [], testerPpm: 0, complaintIncident: 'INC-06',
    trueCause: 'Powder built up in the nozzle of stripe applicator 22 after the air dryer let moisture through; the film thinned a little every day until the nozzle was cleaned.',
    endEvent: { kind: 'tooling-set', machineCode: 'ST22', text: 'Nozzle of stripe applicator 22 taken off, cleaned and set; dryer cartridge renewed', minutes: 25 },
  },
  {
    code: 'F02', title: 'Heavier end plate', lineCode: 'L3', machineCode: 'SM3',
    begins: { day: 31, hour: 3 }, ends: { day: 33, hour: 12 },
    effects: [{ characteristicCode: 'seam-thickness', shape: 'step', size: 0.024 }], derived: ['free-space'], testerPpm: 0, complaintIncident: 'INC-03',
    trueCause: 'An end lot of 0.228 mm plate instead of 0.220 mm: three layers of it make the seam 0.024 mm thicker on all four heads at one moment. With the old plate thickness in the formula, free space seems to grow by as much.',
    beginEvent: { kind: 'end-lot-change', machineCode: 'SM3', text: 'New end lot 3307 on the end feed' },
    endEvent: { kind: 'end-lot-change', machineCode: 'SM3', text: 'End lot 3307 used up, lot 3311 on' },
  },
  {
    code: 'F03', title: 'Cold weld front on a low-tin coil', lineCode: 'L1', machineCode: 'BM11', laneCode: 'A',
    begins: { day: 38, hour: 4.5 }, ends: { day: 40, hour: 3 },
    effects: [{ characteristicCode: 'weld-thickness', shape: 'step', size: 0.022, positions: ['front'] }], derived: [], testerPpm: 700, complaintIncident: 'INC-04',
    trueCause: 'Coil 7716 had less tin than ordered, so the cold edge of the weld window rose by 80 A with the current untouched. The first millimetres of each body stayed cold and thick: half A only, body maker 11 only.',
    beginEvent: { kind: 'coil-change', machineCode: 'BM11', text: 'Blanks of coil 7716 on the feed table' },
    endEvent: { kind: 'coil-change', machineCode: 'BM11', text: 'Blanks of coil 7716 taken off and blocked, coil 7721 on; window test repeated, current left as it was', minutes: 20 },
  },
  {
    code: 'F04', title: 'First-operation rolls wear', lineCode: 'L2', machineCode: 'SM2',
    begins: { day: 44, hour: 0 }, ends: { day: 59, hour: 1 },
    effects: [{ characteristicCode: 'cover-hook', shape: 'ramp', size: -0.15 }], derived: ['seam-overlap', 'percent-overlap'], testerPpm: 120, complaintIncident: 'INC-07',
    trueCause: 'The first-operation roll set of seamer 2 was at the end of its life: the cover hook became shorter on all six heads for two weeks.',
    endEvent: { kind: 'roll-change', machineCode: 'SM2', text: 'First-operation roll set renewed on all six heads', minutes: 95 },
  },
  {
    code: 'F05', title: 'Head 7 after a jam without re-check', lineCode: 'L1', machineCode: 'SM1', unitCodes: ['H7'],
    begins: { day: 53, hour: 7.33 }, ends: { day: 54, hour: 2 },
    effects: [{ characteristicCode: 'seam-thickness', shape: 'step', size: 0.055 }], derived: ['free-space'], testerPpm: 300, complaintIncident: 'INC-05',
    trueCause: 'A jam bent the second-operation lever of head 7. The line was started again without the teardown that a jam asks for, so the next routine check was the first to see it.',
    beginEvent: { kind: 'stop', machineCode: 'SM1', text: 'Jam at the infeed of seamer 1, cans cleared, restarted', minutes: 14 },
    endEvent: { kind: 'tooling-set', machineCode: 'SM1', text: 'Second-operation lever of head 7 renewed, roll set again', minutes: 40 },
  },
  {
    code: 'F06', title: 'Slitter lane 4 cuts long', lineCode: 'L1', machineCode: 'BM12',
    begins: { day: 63, hour: 6 }, ends: { day: 65, hour: 2 },
    effects: [{ characteristicCode: 'weld-overlap', shape: 'step', size: 0.06, everyNthCan: 3 }], derived: [], testerPpm: 60, complaintIncident: 'INC-08',
    trueCause: 'One cutter pair of slitter 1 moved and lane 4 cut 0.06 mm long. Lanes 4 to 6 feed body maker 12, so every third of its bodies has a wide lap, on both halves; body maker 11 is untouched.',
    beginEvent: { kind: 'coil-change', machineCode: 'BM12', text: 'Blanks of coil 7790 on the feed table' },
    endEvent: { kind: 'tooling-set', machineCode: 'SL1', text: 'Cutter pair of lane 4 reset, marked stacks purged', minutes: 35 },
  },
  {
    code: 'F07', title: 'Flanging spindle 3 wears', lineCode: 'L2', machineCode: 'FL2', unitCodes: ['S3'],
    begins: { day: 65, hour: 4 }, ends: { day: 74, hour: 6 },
    effects: [{ characteristicCode: 'flange-width', shape: 'ramp', size: -0.14 }], derived: [], testerPpm: 80, complaintIncident: 'INC-11',
    trueCause: 'The bearing of flanging spindle 3 wore out and the flange became narrower for nine days. One can in six carries it on to the seamer as a short body hook.',
    endEvent: { kind: 'tooling-set', machineCode: 'FL2', text: 'Spindle 3 of flanger 2 renewed, depth set', minutes: 70 },
  },
  {
    code: 'F08', title: 'Head 5 lifter spring breaks', lineCode: 'L1', machineCode: 'SM1', unitCodes: ['H5'],
    begins: { day: 72, hour: 9 }, ends: { day: 75, hour: 1 },
    effects: [{ characteristicCode: 'body-hook', shape: 'step', size: -0.09 }],
    derived: ['seam-overlap', 'percent-overlap', 'body-hook-butting'], testerPpm: 220, complaintIncident: 'INC-12',
    trueCause: 'The lifter spring of head 5 broke: too little force under the can, a short body hook on one can in eight.',
    endEvent: { kind: 'tooling-set', machineCode: 'SM1', text: 'Lifter spring of head 5 renewed, pin height set', minutes: 30 },
  },
  {
    code: 'F09', title: 'Chuck of head 2 set low', lineCode: 'L3', machineCode: 'SM3', unitCodes: ['H2'],
    begins: { day: 87, hour: 10 }, ends: null,
    effects: [
      { characteristicCode: 'countersink', shape: 'step', size: 0.06 }, { characteristicCode: 'cover-hook', shape: 'step', size: -0.06 },
    ],
    derived: ['seam-overlap', 'percent-overlap'], testerPpm: 40, complaintIncident: null,
    trueCause: 'The chuck of head 2 was put back too low after a bearing was greased: deep countersink, short cover hook.',
    beginEvent: { kind: 'tooling-set', machineCode: 'SM3', text: 'Bearing of head 2 greased', minutes: 18 },
  },
  {
    code: 'F10', title: 'Guide rail of body maker 12 worn', lineCode: 'L1', machineCode: 'BM12', laneCode: 'B',
    begins: { day: 88, hour: 5 }, ends: null,
    effects: [{ characteristicCode: 'weld-overlap', shape: 'step', size: 0.06, positions: ['back'] }], derived: [], testerPpm: 30, complaintIncident: null,
    trueCause: 'A rail insert of body maker 12 came loose at the exit side: the lap opens like a wedge towards the trailing end, which is half B.',
  },
];
