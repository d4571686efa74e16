export const canMaking = {
  taper: {
    title: 'Wedge of the weld overlap', text: 'Overlap in front less overlap at the back of each body. At one current the wide end runs cold and the narrow end hot, also inside the limits (common practice, no source). Up to {{step}} {{unit}}, one step of the reading, no wedge is told.',
    none: 'No can shows a wedge.', can: 'Can', front: 'Front', middle: 'Middle', back: 'Back', difference: 'Front less back', bow: 'Middle less the ends', shape: 'Shape', unread_one: '{{count}} can was not read at both ends.', unread_other: '{{count}} cans were not read at both ends.',
    half: '{{number}}, half {{lane}}', shapes: { 'wide-in-front': 'Wide in front', 'wide-at-the-back': 'Wide at the back', none: 'No wedge' },
  },
  teardown: {
    title: 'What this teardown lacks', text: 'Against what two US rules ask of the food packer; a can maker’s records are evidence for the packer. A complete record does not say that the seam is good: limits are the specification’s, release is the packer’s and the process authority’s. Another check of the same cans may hold what this one lacks.',
    method: { micrometer: 'Read as torn down and measured by micrometer.', optical: 'Read as sectioned and measured on a scope or projector.' }, complete: 'Nothing that it requires is missing.', cans: 'cans {{list}}', can: 'can {{list}}',
    'not-judged': '{{what}}: not judged in this check', 'too-few-points': '{{what}}: {{has}} of {{needs}} points away from the side seam', 'near-the-side-seam': '{{what}}: a point at {{has}}° lies within {{needs}}° of the weld and does not count', 'not-spread-round': '{{what}}: the points leave {{has}}° without one, about {{needs}}° apart is asked',
    'places-not-written': '{{what}}: the places round the can are not written down', 'juncture-not-examined': { required: 'Juncture not examined: cover-hook droop at the crossover is to be judged on each can', 'looked for': 'Juncture not examined: droop at the crossover is one of the things to look for' },
  },
  genealogy: {
    title: 'What this can was', text: 'What the marks on the can say about where on the body and through which parts of the machines it came. Unknown stays unknown: a guess would send the search to the wrong machine.',
    body: 'Place on the body', ends: 'Its two flanges', lane: 'Slitter lane', unit: { seamer: 'Seaming head', flanger: 'Flanging spindle' },
    single: 'One can a body', place: 'Half {{lane}}: can {{place}} of {{of}} of the body, counted from the leading end', placeUnknown: 'Not known: the half is not on record',
    endsOf: '{{leading}} in front, {{trailing}} behind', end: { 'weld-front': 'front end of the weld', 'weld-back': 'back end of the weld', parted: 'cut of the parter' },
    endsUnknown: 'Not known. A fault of the front end of the weld falls on half {{front}} only, one of the back end on half {{back}} only', laneUnknown: 'Not known: bodies carry no number. A body maker gets {{lanes}} lanes; where they follow in turn, a fault of one comes back every {{cans}} of its cans (common practice, no source)',
    laneNone: 'Not known: the lanes of the slitter are not set up, or cannot be shared out evenly among the body makers', unitKnown: '{{machine}} {{unit}}, by the mark on the can', unitUnknown_one: 'Not on record; the line has only {{count}}', unitUnknown_other: 'Not known: no mark of it is on record. {{count}} are possible', unitNone: 'None set up on this line',
  },
  versions: {
    title: 'Versions side by side', line: 'Line', older: 'Earlier version', newer: 'Later version', what: 'What', changed: 'changed', option: '{{pattern}}, from {{from}}', legend: 'What the other version has not is set bold and underlined.',
    rows: { pattern: 'Pattern', codedAt: 'Printed at', clock: 'Clock within', from: 'Holds from', until: 'Until', example: 'Example', made: 'Made by, and when', why: 'Why', retired: 'Retired' },
    minutes: '{{minutes}} min', noEnd: 'no end known', noReason: 'no reason on record', by: '{{name}}, {{at}}', retiredBy: '{{name}}, {{at}}: {{reason}}', notRetired: 'no',
  },
} as const;
