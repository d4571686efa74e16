import { cfiaSeriousFromMemory, leakStudy, seamPage, type Defect } from './defect.js';

/** Double-seam defects that only a measurement or a teardown shows. The limits are the specification's, not given here. */
export const doubleSeamInside: readonly Defect[] = [
  {
    code: 'loose-seam', name: 'Loose seam', place: 'double seam', where: 'all round',
    definition: 'Thick seam, low tightness and much free space: the seam is not ironed enough.',
    severities: [], upstreamSteps: ['seamer'],
    causes: ['second operation roll worn or loose', 'play in the seaming roll bearing', 'thicker plate'],
    howToCheck: 'Seam thickness and tightness of every head; all heads at once points to plate, one head to its rolls.', sources: [leakStudy],
  },
  {
    code: 'low-tightness', name: 'Low tightness, wrinkled cover hook', place: 'double seam', where: 'cover hook',
    definition: 'Wrinkles of the cover hook are not ironed out and reach far up the hook.',
    severities: [], upstreamSteps: ['seamer'],
    causes: ['second operation loose', 'roll worn', 'first operation leaves a wavy hook'],
    howToCheck: 'Strip the cover hook and rate the worst wrinkle by the reference set; two people read the same hook.', sources: [leakStudy],
  },
  {
    code: 'short-body-hook', name: 'Short body hook', place: 'double seam', where: 'body hook',
    definition: 'The body hook is below its limit.',
    severities: [], upstreamSteps: ['parter', 'flanger', 'seamer'],
    causes: ['low lifter pressure', 'gap from chuck to lifter too large', 'first operation tight', 'short flange'],
    howToCheck: 'One head: lifter force and pin height. All heads: flange width and body height first.', sources: [seamPage],
  },
  {
    code: 'long-body-hook', name: 'Long body hook', place: 'double seam', where: 'body hook',
    definition: 'The body hook is above its limit.',
    severities: [], upstreamSteps: ['parter', 'flanger', 'seamer'],
    causes: ['high lifter pressure', 'gap from chuck to lifter too small', 'first operation loose', 'mushroomed flange'],
    howToCheck: 'Lifter force and pin height of the head; flange profile of the same cans.', sources: [seamPage],
  },
  {
    code: 'short-cover-hook', name: 'Short cover hook', place: 'double seam', where: 'cover hook',
    definition: 'The cover hook is below its limit.',
    severities: [], upstreamSteps: ['seamer'],
    causes: ['first operation loose or its roll worn', 'deep countersink', 'high lifter pressure', 'curl of the end out of range'],
    howToCheck: 'Trend of all heads against roll life; countersink of the head; curl height of the end lot.', sources: [seamPage],
  },
  {
    code: 'long-cover-hook', name: 'Long cover hook', place: 'double seam', where: 'cover hook',
    definition: 'The cover hook is above its limit.',
    severities: [], upstreamSteps: ['seamer'],
    causes: ['first operation too tight'],
    howToCheck: 'Section after the first operation; compare with the roll setting sheet.', sources: [seamPage],
  },
  {
    code: 'low-overlap', name: 'Low overlap', place: 'double seam', where: 'inside the seam',
    definition: 'Cover hook and body hook engage too little.',
    severities: [cfiaSeriousFromMemory], upstreamSteps: ['flanger', 'seamer'],
    causes: ['short body hook', 'short cover hook', 'long seam', 'deep countersink'],
    howToCheck: 'Judge the juncture first; then see which of the hooks and the seam length moved.', sources: [leakStudy],
  },
  {
    code: 'deep-countersink', name: 'Deep countersink', place: 'double seam', where: 'countersink',
    definition: 'The countersink is deeper than its limit; cover hook and overlap shorten with it.',
    severities: [], upstreamSteps: ['seamer'],
    causes: ['chuck set too low', 'wrong or worn chuck', 'end from another lot'],
    howToCheck: 'Countersink less seam length for each head; gauge the chuck height.', sources: [seamPage],
  },
  {
    code: 'juncture-leak', name: 'Leak at the juncture', place: 'double seam', where: 'where the side seam passes through the double seam',
    definition: 'The can leaks where weld and seam cross, while the measured points, which keep away from the weld, may all be in specification.',
    severities: [cfiaSeriousFromMemory], upstreamSteps: ['slitter', 'body-maker', 'flanger', 'seamer'],
    causes: ['lap step or thick weld', 'cold weld at the body end', 'flange crack beside the weld', 'roll jump over the weld'],
    howToCheck: 'Section the juncture, judge cover-hook droop there, measure weld step and thickness at both body ends.', sources: [leakStudy],
  },
];
