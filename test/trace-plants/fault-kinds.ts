import type { StepKind } from '#canmaking/line/steps';
import type { TracedEvent } from '#tracing/evidence';

/** What of the machine is off: all of it, one unit, one half of the bodies (the one named, where there are halves), every n-th body. */
export type Reach = 'machine' | 'unit' | 'lane A' | 'lane B' | 'every n-th';
/** What comes in lots, each of which a fault may come and go with. */
export type Material = 'plate' | 'wire' | 'ends' | 'lacquer';

export type FaultKind = {
  readonly name: string;
  readonly weight: number;
  readonly step: StepKind;
  readonly reach: Reach;
  /** It lies in one lot (or two of one delivery) and comes and goes with it; `begins` is then the log-book entry of a new lot. */
  readonly lot?: Material;
  readonly course: 'step' | 'ramp';
  /** By how much each characteristic moves, as a share of the fault's size. */
  readonly moves: Readonly<Record<string, number>>;
  /** What the cans take with them to a later step. */
  readonly takenAlong: Readonly<Record<string, number>>;
  /** The fault may also lie the other way round: too long as well as too short. */
  readonly eitherWay: boolean;
  readonly begins: { readonly kind: TracedEvent['kind']; readonly text: string; readonly probability: number };
  readonly ends: { readonly kind: TracedEvent['kind']; readonly text: string };
  /** Codes of the defect taxonomy: what a good examination finds, and what it is easily taken for. */
  readonly defects: readonly string[];
  readonly neighbours: readonly string[];
  readonly leakPlaces: readonly string[];
};

const end = "double seam, maker's end";

/** All invented; common practice of the trade, no source. Weights are shares of the plants, and add up to 100. */
export const faultKinds: readonly FaultKind[] = [
  {
    name: 'first-operation rolls worn', weight: 11, step: 'seamer', reach: 'machine', course: 'ramp', moves: { 'cover-hook': -1, 'seam-length': 0.25 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'setting', text: 'First operation roll set checked', probability: 0.1 }, ends: { kind: 'roll-change', text: 'First operation rolls renewed' },
    defects: ['short-cover-hook', 'low-overlap'], neighbours: ['vee', 'droop', 'low-tightness'], leakPlaces: [end],
  },
  {
    name: 'second-operation rolls worn', weight: 6, step: 'seamer', reach: 'machine', course: 'ramp', moves: { 'seam-thickness': 1, tightness: -0.6 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'setting', text: 'Second operation roll set checked', probability: 0.1 }, ends: { kind: 'roll-change', text: 'Second operation rolls renewed' },
    defects: ['loose-seam', 'low-tightness'], neighbours: ['low-overlap', 'skid'], leakPlaces: [end],
  },
  {
    name: 'lifter of one head weak', weight: 8, step: 'seamer', reach: 'unit', course: 'step', moves: { 'body-hook': -1, 'seam-length': -0.2 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'tooling-set', text: 'Lifter heights set', probability: 0.3 }, ends: { kind: 'tooling-set', text: 'Lifter spring renewed' },
    defects: ['short-body-hook', 'low-overlap'], neighbours: ['deadhead', 'skid', 'loose-seam'], leakPlaces: [end],
  },
  {
    name: 'chuck of one head low', weight: 6, step: 'seamer', reach: 'unit', course: 'step', moves: { countersink: 1, 'cover-hook': -0.6 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'tooling-set', text: 'Chuck exchanged', probability: 0.45 }, ends: { kind: 'tooling-set', text: 'Chuck height set' },
    defects: ['deep-countersink', 'short-cover-hook'], neighbours: ['low-overlap', 'sharp-seam', 'cutover'], leakPlaces: [end],
  },
  {
    name: 'second-operation lever of one head loose', weight: 7, step: 'seamer', reach: 'unit', course: 'step', moves: { 'seam-thickness': 1, tightness: -0.7 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'setting', text: 'Second operation set on a head', probability: 0.4 }, ends: { kind: 'setting', text: 'Second operation lever tightened and set' },
    defects: ['loose-seam', 'low-tightness'], neighbours: ['skid', 'low-overlap'], leakPlaces: [end],
  },
  {
    name: 'jam without a check after it', weight: 7, step: 'seamer', reach: 'unit', course: 'step', moves: { 'seam-thickness': 1, 'body-hook': -0.4 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'stop', text: 'Jam at the seamer infeed, cleared', probability: 0.85 }, ends: { kind: 'tooling-set', text: 'Head set anew' },
    defects: ['loose-seam', 'low-overlap'], neighbours: ['false-seam', 'short-body-hook', 'knocked-down-curl'], leakPlaces: [end],
  },
  {
    name: 'heavier end lot', weight: 7, step: 'seamer', reach: 'machine', lot: 'ends', course: 'step', moves: { 'seam-thickness': 1, countersink: 0.15 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'end-lot-change', text: 'New end lot', probability: 0.9 }, ends: { kind: 'end-lot-change', text: 'New end lot' },
    defects: ['loose-seam', 'low-tightness'], neighbours: ['low-overlap', 'sharp-seam'], leakPlaces: [end],
  },
  {
    name: 'flanging spindle worn', weight: 9, step: 'flanger', reach: 'unit', course: 'ramp', moves: { 'flange-width': -1 }, takenAlong: { 'body-hook': -0.6 }, eitherWay: false,
    begins: { kind: 'tooling-set', text: 'Spindles cleaned', probability: 0.1 }, ends: { kind: 'tooling-set', text: 'Spindle tool renewed' },
    defects: ['short-flange', 'uneven-flange'], neighbours: ['short-body-hook', 'false-seam', 'flange-crack'], leakPlaces: ['flange', end],
  },
  {
    name: 'flanging depth off', weight: 7, step: 'flanger', reach: 'machine', course: 'step', moves: { 'flange-width': -1 }, takenAlong: { 'body-hook': -0.6 }, eitherWay: true,
    begins: { kind: 'setting', text: 'Flanging depth adjusted', probability: 0.5 }, ends: { kind: 'setting', text: 'Flanging depth set back' },
    defects: ['short-flange', 'mushroomed-flange'], neighbours: ['short-body-hook', 'long-body-hook', 'knocked-down-flange'], leakPlaces: ['flange', end],
  },
  {
    name: 'coil low in tin', weight: 5, step: 'body-maker', reach: 'lane A', lot: 'plate', course: 'step', moves: { 'weld-thickness': 1 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'coil-change', text: 'Coil on', probability: 0.9 }, ends: { kind: 'coil-change', text: 'Coil on' },
    defects: ['cold-weld', 'open-weld'], neighbours: ['juncture-leak', 'weld-contamination', 'pinhole'], leakPlaces: ['side seam', 'juncture'],
  },
  {
    name: 'wire spool off size', weight: 2, step: 'body-maker', reach: 'machine', lot: 'wire', course: 'step', moves: { 'weld-thickness': 1 }, takenAlong: {}, eitherWay: true,
    begins: { kind: 'wire-change', text: 'Wire spool on', probability: 0.9 }, ends: { kind: 'wire-change', text: 'Wire spool on' },
    defects: ['cold-weld', 'splash', 'pinhole'], neighbours: ['open-weld', 'weld-contamination', 'juncture-leak'], leakPlaces: ['side seam', 'juncture'],
  },
  {
    name: 'weld current low at the body end', weight: 5, step: 'body-maker', reach: 'lane A', course: 'step', moves: { 'weld-thickness': 1 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'setting', text: 'Weld current trimmed', probability: 0.4 }, ends: { kind: 'setting', text: 'Current ramp set' },
    defects: ['cold-weld', 'open-weld'], neighbours: ['juncture-leak', 'weld-contamination', 'pinhole'], leakPlaces: ['side seam', 'juncture'],
  },
  {
    name: 'guide rail worn', weight: 7, step: 'body-maker', reach: 'lane B', course: 'ramp', moves: { 'weld-overlap': 1 }, takenAlong: {}, eitherWay: true,
    begins: { kind: 'setting', text: 'Guide rail cleaned', probability: 0.15 }, ends: { kind: 'tooling-set', text: 'Guide rail renewed' },
    defects: ['open-weld', 'weld-step'], neighbours: ['cold-weld', 'juncture-leak', 'splash'], leakPlaces: ['side seam', 'juncture'],
  },
  {
    name: 'slitter lane long', weight: 5, step: 'body-maker', reach: 'every n-th', course: 'step', moves: { 'weld-overlap': 1 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'tooling-set', text: 'Slitter cutters set', probability: 0.3 }, ends: { kind: 'tooling-set', text: 'Cutter pair reset, marked stacks taken out' },
    defects: ['wide-lap', 'cold-weld'], neighbours: ['weld-step', 'droop', 'juncture-leak'], leakPlaces: ['side seam', 'juncture'],
  },
  {
    name: 'stripe nozzle building up', weight: 4, step: 'stripe-applicator', reach: 'machine', course: 'ramp', moves: { 'stripe-film': -1 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'wash-down', text: 'Nozzle wiped', probability: 0.1 }, ends: { kind: 'setting', text: 'Nozzle exchanged' },
    defects: ['thin-stripe', 'stripe-void'], neighbours: ['stripe-delamination', 'pinhole'], leakPlaces: ['side seam', 'body'],
  },
  {
    name: 'powder lot thin', weight: 2, step: 'stripe-applicator', reach: 'machine', lot: 'lacquer', course: 'step', moves: { 'stripe-film': -1 }, takenAlong: {}, eitherWay: false,
    begins: { kind: 'lacquer-change', text: 'Powder lot on', probability: 0.9 }, ends: { kind: 'lacquer-change', text: 'Powder lot on' },
    defects: ['thin-stripe', 'stripe-void'], neighbours: ['stripe-delamination', 'pinhole'], leakPlaces: ['side seam', 'body'],
  },
  {
    name: 'stripe under-cured', weight: 2, step: 'curing-oven', reach: 'machine', course: 'step', moves: {}, takenAlong: {}, eitherWay: false,
    begins: { kind: 'setting', text: 'Oven zone set', probability: 0.5 }, ends: { kind: 'setting', text: 'Oven zone set back' },
    defects: ['stripe-delamination'], neighbours: ['thin-stripe', 'stripe-void'], leakPlaces: ['side seam', 'body'],
  },
];
