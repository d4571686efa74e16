import { afdo, cfiaHandling, cfiaSerious, cfr42, fao, faoUnacceptable, type Defect, type Severity } from './defect.js';

const dentSeverities: readonly Severity[] = [
  { scheme: '7 CFR 42', class: 'Major 113 (usability)', basis: 'published' },
  { scheme: '7 CFR 42', class: 'Minor 211 (appearance)', basis: 'published' },
];

/** Defects outside seam and weld that an incident or a note may name. */
export const flangeBodyEndCoating: readonly Defect[] = [
  {
    code: 'flange-crack', name: 'Flange crack', place: 'flange', where: 'flange edge, at or away from the weld',
    definition: 'A split that runs from the flange edge inward.',
    severities: [faoUnacceptable], upstreamSteps: ['slitter', 'body-maker', 'parter', 'flanger'],
    causes: ['overheated weld', 'double-reduced plate or wrong grain direction', 'burr', 'worn flanger tool'],
    howToCheck: 'Spread over the spindles: all of them points to plate or weld, one to the flanger. Stretch the edge to failure.', sources: [fao],
  },
  {
    code: 'torn-flange', name: 'Torn or cut-down flange', place: 'flange', where: 'local',
    definition: 'The flange is torn and part of it is turned down the body wall.',
    severities: [cfiaSerious, faoUnacceptable], upstreamSteps: ['body-maker', 'flanger', 'seamer'],
    causes: ['flange crack at the weld', 'infeed guide of the seamer'],
    howToCheck: 'Look below the seam for torn body metal; flanged cans before the seamer under a lamp.', sources: [fao],
  },
  {
    code: 'short-flange', name: 'Short flange', place: 'flange', where: 'flange',
    definition: 'The flange is narrower than its limit; the body hook will be short.',
    severities: [], upstreamSteps: ['parter', 'flanger'],
    causes: ['worn spindle tool', 'flanging depth', 'body too low after parting'],
    howToCheck: 'Flange width for each spindle; body height of each half.', sources: [],
  },
  {
    code: 'mushroomed-flange', name: 'Mushroomed flange', place: 'flange', where: 'flange',
    definition: 'The flange is turned over too far and rolls back.',
    severities: [], upstreamSteps: ['flanger'],
    causes: ['flanging too deep', 'wrong tool profile', 'knock in handling'],
    howToCheck: 'Flange profile gauge on one can from each spindle.', sources: [],
  },
  {
    code: 'uneven-flange', name: 'Uneven flange', place: 'flange', where: 'round the flange',
    definition: 'Flange width varies round the can.',
    severities: [], upstreamSteps: ['body-maker', 'parter', 'flanger'],
    causes: ['uneven height split', 'one flanging spindle', 'blank skew'],
    howToCheck: 'Four points round the flange; squareness of the body at both ends.', sources: [],
  },
  {
    code: 'body-dent', name: 'Dent', place: 'body', where: 'body wall or beside the seam',
    definition: 'The body is dented; at the seam it may open the hooks.',
    severities: [...dentSeverities, { scheme: 'FAO/Codex', class: 'unacceptable when severe', basis: 'published' }], upstreamSteps: ['palletizer'],
    causes: ['handling', 'drop at a transfer', 'pallet corner'],
    howToCheck: 'Place and repeat of the dent; walk the conveyor at that height.', sources: [cfr42, fao],
  },
  {
    code: 'cable-cut', name: 'Cable cut, abrasion', place: 'body', where: 'body wall or seam face',
    definition: 'Metal worn by a running cable or a guide.',
    severities: [{ scheme: '7 CFR 42', class: 'Major 117 (cut exposes the seam)', basis: 'published' },
      { scheme: 'CFIA', class: 'Serious when less than half the thickness is left', basis: 'second-hand' }],
    upstreamSteps: ['palletizer'], causes: ['cable conveyor with standing cans', 'guide rail'],
    howToCheck: 'Depth of the wear under a loupe; look for the contact point on the line.', sources: [cfr42, cfiaHandling],
  },
  {
    code: 'fractured-bead', name: 'Fractured bead', place: 'body', where: 'bead',
    definition: 'The body wall is split in a bead, most often at the weld.',
    severities: [faoUnacceptable], upstreamSteps: ['body-maker', 'beader'],
    causes: ['bead too deep', 'brittle weld', 'weld in the narrow part of the tool'],
    howToCheck: 'Bead depth; dye test of the bead at the weld.', sources: [fao],
  },
  {
    code: 'peaked-end', name: 'Peaked or buckled end', place: 'end', where: 'end panel, may reach the seam',
    definition: 'The end is peaked for good after too much inside pressure.',
    severities: [{ scheme: '7 CFR 42', class: 'Major 114 (into the seam)', basis: 'published' },
      { scheme: '7 CFR 42', class: 'Minor 212 (not into the seam)', basis: 'published' }, faoUnacceptable],
    upstreamSteps: [], causes: ['pressure in the retort', 'thin end plate', 'headspace'],
    howToCheck: 'Thickness of the end lot; ask the packer for the cooling pressure record.', sources: [cfr42, fao],
  },
  {
    code: 'stripe-void', name: 'Stripe void, skip or off-centre', place: 'coating', where: 'weld, inside',
    definition: 'Weld metal is not covered by the side-seam stripe.',
    severities: [{ scheme: '7 CFR 42', class: 'Major 102 (enamel missing)', basis: 'published' }], upstreamSteps: ['body-maker', 'stripe-applicator'],
    causes: ['nozzle', 'powder flow', 'splash tips', 'wandering weld'],
    howToCheck: 'Copper-sulphate test on twelve bodies; film thickness along the weld; nozzle and air.', sources: [cfr42],
  },
  {
    code: 'thin-stripe', name: 'Thin stripe film', place: 'coating', where: 'weld, inside',
    definition: 'The stripe covers the weld but is thinner than its limit; sulphide stain and perforation follow in months.',
    severities: [{ scheme: '7 CFR 42', class: 'Major 103 or Minor 203 (enamel breakdown)', basis: 'published' }], upstreamSteps: ['stripe-applicator', 'curing-oven'],
    causes: ['nozzle build-up', 'powder moisture', 'low powder flow'],
    howToCheck: 'Film gauge front, middle and back on three bodies; weight of powder a minute.', sources: [cfr42],
  },
  {
    code: 'stripe-delamination', name: 'Stripe delamination', place: 'coating', where: 'stripe at flange and bead',
    definition: 'The stripe lifts when it is formed or retorted.',
    severities: [{ scheme: '7 CFR 42', class: 'Major 103 (enamel breakdown)', basis: 'published' }], upstreamSteps: ['body-maker', 'stripe-applicator', 'curing-oven'],
    causes: ['oxide on the weld, no inert gas', 'under-cured stripe', 'over-bake after a stop'],
    howToCheck: 'Tape test after flanging; oven profile; gas flow at the weld.',
    sources: [cfr42, 'US patent 4,517,256, description: oxidised weld surface holds coating poorly (read in part)'],
  },
  {
    code: 'leaker', name: 'Leaker, place not known', place: 'body', where: 'anywhere',
    definition: 'The can loses contents, pressure or vacuum and the place is not established yet.',
    severities: [{ scheme: '7 CFR 42', class: 'Critical 3', basis: 'published' }, { scheme: 'AFDO', class: 'Class I', basis: 'published' }],
    upstreamSteps: ['body-maker', 'flanger', 'seamer', 'tester'],
    causes: ['any leak path of seam, weld, flange, body or end'],
    howToCheck: 'Find the place first: vacuum, air or dye test, then section there. Name the test.', sources: [cfr42, afdo],
  },
];
