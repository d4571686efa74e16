import { cfiaSeriousFromMemory, cfr42, fao, faoUnacceptable, gbt, type Defect, type Severity } from './defect.js';

const improperSideSeam: Severity = { scheme: '7 CFR 42', class: 'Major 118', basis: 'published' };
const grainRule = 'ASTM A626-16, 4.1, grain direction of double-reduced plate (excerpt read)';
const currentWindow = 'Shimizu et al., Tetsu-to-Hagané 84(4) 1998, 249-254, range of weld current (abstract read)';

/** Weld defects. The tear test and the tester see the coarse ones; a cold front may only leak after seaming. */
export const sideSeam: readonly Defect[] = [
  {
    code: 'cold-weld', name: 'Cold weld', place: 'side seam', where: 'a stretch of the weld, often at the leading body end',
    definition: 'The plates stick without being joined: the strip peels or breaks off in the tear test.',
    severities: [faoUnacceptable], upstreamSteps: ['slitter', 'body-maker'],
    causes: ['low current', 'low-tin or oxidised plate', 'wide overlap', 'high speed', 'weak roller force', 'cold start of the body'],
    howToCheck: 'Tear ten bodies and note where the strip breaks; weld thickness front, middle, back; window test on this coil.',
    sources: [fao, gbt, currentWindow],
  },
  {
    code: 'open-weld', name: 'Open or partial weld', place: 'side seam', where: 'usually one body end',
    definition: 'A visible gap in the weld.',
    severities: [cfiaSeriousFromMemory, faoUnacceptable], upstreamSteps: ['slitter', 'body-maker'],
    causes: ['misfeed of the front or back edge', 'tapered overlap', 'current ramp at the body end'],
    howToCheck: 'Overlap front, middle, back; look at the body end under a loupe; weld-monitor rejects at that time.', sources: [fao],
  },
  {
    code: 'splash', name: 'Splash, expulsion', place: 'side seam', where: 'inside and outside of the weld',
    definition: 'Molten metal is spat out of the weld and leaves rough tips.',
    severities: [], upstreamSteps: ['slitter', 'body-maker'],
    causes: ['high current', 'narrow overlap', 'low force', 'dirt on the plate', 'worn wire groove'],
    howToCheck: 'Count tips on twenty bodies; overlap width; position of the current in its window.', sources: [currentWindow],
  },
  {
    code: 'pinhole', name: 'Pinhole, blow-through', place: 'side seam', where: 'in the weld',
    definition: 'A tiny or burnt hole through the weld.',
    severities: [cfiaSeriousFromMemory, improperSideSeam, { scheme: 'AFDO', class: 'Class I (hole, leakage)', basis: 'published' }],
    upstreamSteps: ['slitter', 'body-maker'],
    causes: ['splash', 'lacquer in the weld margin', 'inclusion in the plate', 'damaged wire'],
    howToCheck: 'Air or dye test with the can under the lamp; margin width of the sheets; wire inspection.', sources: [gbt, cfr42],
  },
  {
    code: 'weld-step', name: 'Lap misalignment, step, weld tail', place: 'side seam', where: 'body ends',
    definition: 'The body ends are not level at the weld, or a tail of metal stands over the edge.',
    severities: [], upstreamSteps: ['slitter', 'body-maker'],
    causes: ['blank out of square', 'worn guide', 'late or early feed'],
    howToCheck: 'Measure the step at both body ends; diagonal difference of the blank.', sources: [gbt],
  },
  {
    code: 'weld-contamination', name: 'Burn or contamination in the weld', place: 'side seam', where: 'weld area',
    definition: 'Visible burn on the side seam from print, oil or dust between the plates.',
    severities: [], upstreamSteps: ['slitter', 'body-maker'],
    causes: ['print or lacquer in the margin', 'oil', 'dust'],
    howToCheck: 'Plain margin of the sheets by graticule; wipe test of the blank edge.', sources: ['DOST (Philippines) glossary of can terms, which rates it major (excerpt read)'],
  },
  {
    code: 'wide-lap', name: 'Wide lap', place: 'side seam', where: 'weld overlap',
    definition: 'The weld overlap is above its limit: less heat a millimetre, a thicker weld and a step at the juncture.',
    severities: [], upstreamSteps: ['slitter', 'body-maker'],
    causes: ['blank too long', 'calibration crown set tight', 'worn guide rail'],
    howToCheck: 'Overlap of as many consecutive bodies as the slitter has lanes, twice: a period points to one lane. Then blank length.', sources: [],
  },
  {
    code: 'narrow-lap', name: 'Narrow lap', place: 'side seam', where: 'weld overlap',
    definition: 'The weld overlap is below its limit: the weld runs hot and splashes.',
    severities: [], upstreamSteps: ['slitter', 'body-maker'],
    causes: ['blank too short', 'calibration crown open', 'guide rail worn on one side'],
    howToCheck: 'Overlap front, middle and back against blank length of each lane.', sources: [],
  },
  {
    code: 'haz-crack', name: 'Crack beside the weld', place: 'side seam', where: 'heat-affected zone',
    definition: 'A crack in the heat-affected zone, which opens at flanging.',
    severities: [cfiaSeriousFromMemory], upstreamSteps: ['body-maker', 'flanger'],
    causes: ['overheated weld', 'double-reduced plate', 'grain direction turned', 'burr'],
    howToCheck: 'Flange to failure and see where it splits; weld thickness ratio; grain mark on the bundle.', sources: [grainRule],
  },
];
