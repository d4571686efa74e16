import { shift } from './shifts.js';

export const setUp = {
  shift,
  title: 'Set-up', plant: 'the plant', save: 'Save', cancel: 'Cancel', change: 'Change', changeOf: 'Change {{name}}', code: 'Code', name: 'Name', unit: 'Unit', reason: 'Reason',
  retired: 'Retired', retiredHint: 'It stays on all records and is no longer offered.', retiredName: '{{name}} (retired)',
  sections: { lines: 'Lines and machines', products: 'Products', characteristics: 'Characteristics', specifications: 'Specifications', weldWindows: 'Weld windows', plans: 'Check plans', reactions: 'Reaction plans', gauges: 'Gauges', feeds: 'Feeds', codes: 'Can codes', weights: 'Defect weights', counters: 'Counters', shifts: 'Shifts', synonyms: 'Synonyms', retention: 'Retention', people: 'People', audit: 'History', portable: 'Export and import' },
  next: {
    title: 'Next steps to the first check', lines: 'Add a line, its steps and machines', products: 'Add a product (a can)', characteristics: 'Choose what you measure',
    specifications: 'Enter the specification: without it nothing is said about conformity', plans: 'Add a check plan; then log a check or import a file',
  },
  line: { add: 'Add a line', rename: 'Change the line', empty: 'There is no line yet.', heading: '{{code}}: {{name}}', lanes: 'Lanes: {{lanes}}', laneCodes: 'Lanes of a double-high body', laneHint: 'For example A, B. Leave empty for a single-high line.', laneName: 'half {{code}}', addLanes: 'Further lanes' },
  step: { add: 'Add a step', edit: 'Change the step', kind: 'Step', heading: '{{position}}. {{kind}}' },
  stretch: {
    title: 'Ways between the steps', text: 'What the trace of a complaint walks back by. Clocks of printer, log book and counters: within {{clock}} min of each other.', empty: 'No way is set up: a trace then cannot say when cans passed the earlier steps.', add: 'Add a way', edit: 'Change the way', from: 'From', to: 'To', seconds: 'Time of a can', cans: 'Cans between',
    bounds: '{{low}} to {{high}} s', between: '{{low}} to {{high}} cans', unknown: 'not known', clocks: 'Change the clocks', clockMinutes: 'Clocks agree within (min)', clockHint: 'Each way. A wider figure gives wider windows.', shortest: 'Shortest time (s)', shortestHint: 'Running with empty tables.', longest: 'Longest time (s)', longestHint: 'Running with full tables, without stops.', least: 'Least cans between', most: 'Most cans between', cansHint: 'While the line runs; leave empty where they are not known.', remove: 'Take this way out', readOnly: 'Engineers change them.',
  },
  machine: { add: 'Add a machine', edit: 'Change a machine', units: 'Units', unitsHint: 'Heads, spindles or lanes in order, for example H1, H2. Leave empty where they are not kept apart.', addUnits: 'Further units', empty: 'No machine yet.' },
  product: { add: 'Add a product', edit: 'Change {{code}}', empty: 'There is no product yet.', customer: 'Customer', diameter: 'Inside diameter (mm)', height: 'Height (mm)', bodyPlate: 'Body plate (mm)', endPlate: 'End plate (mm)', seamProfile: 'Seam profile', overlapFactor: 'Factor k', overlapFactorHint: 'Allowance of the seam formulas: 1.0, or 1.1 where your guideline says so. Stored with each result; results of different k are never mixed.' },
  characteristic: {
    add: 'Add a characteristic', edit: 'Change {{code}}', empty: 'There is none yet: choose from the usual ones below.', codeHint: 'Small letters, digits and hyphens.', gaugeStep: 'Gauge step', decimals: 'Decimals shown', plausibleLow: 'Plausible from', plausibleHigh: 'Plausible to',
    plausibleHint: 'Wider than any specification: a reading outside asks before it is saved.', chartKind: 'Chart', basis: 'A charted member is', basisHint: 'Points round one can are not a sample of the process: take the can.', formula: 'Formula', formulaHint: 'Only for derived characteristics.',
  },
  chartKinds: { 'xbar-r': 'Mean and range', 'xbar-s': 'Mean and standard deviation', 'i-mr': 'Individuals and moving range' },
  bases: { can: 'a can (mean of its positions)', reading: 'a reading' },
  usual: { title: 'Usual characteristics of the trade', text: 'Common practice, no source: names, gauge steps and wide plausible ranges. No specification comes with them.', entry: '{{name}} ({{unit}})', add: 'Add the ticked ones', all: 'Tick all' },
  specification: {
    needs: 'Add a product and characteristics first.', product: 'Product', inForce: 'Specification in force', text: 'Enter what your customer or the end supplier states. A change is a new revision that judges nothing until it is approved; earlier ones stay readable.', empty: 'No specification in force for this product yet.', add: 'Propose a revision',
    characteristic: 'Characteristic', lsl: 'Lower limit', target: 'Target', usl: 'Upper limit', revision: 'Revision', from: 'In force from', revisions: 'All revisions', range: 'Limits', span: '{{low}} to {{high}}', by: 'By',
  },
  checkPlan: {
    needs: 'Add a machine, a product and characteristics first.', add: 'Add a check plan', edit: 'Change {{name}}', empty: 'There is no check plan yet.', machine: 'Machine', cans: 'Cans', cansHint: 'Of the machine; or of each unit or lane, where these are kept apart.', perUnit: 'For each unit (head, spindle)', perLane: 'For each lane', eachUnit: '{{cans}} of each unit', eachLane: '{{cans}} of each lane',
    positions: 'Positions', positionsHint: 'Points on each can in order, for example front, middle, back. Keep seam points away from the side seam.', characteristics: 'Characteristics', characteristicsHint: 'What is measured. Derived ones follow by themselves.', every: 'Interval (min)', everyHint: 'Longest time between checks while the machine runs.', source: 'Source of the interval', sourceHint: 'For example the customer’s specification.', minutes: 'every {{minutes}} min',
  },
  gauge: { failed: 'calibration failed', add: 'Add a gauge', edit: 'Change {{code}}', empty: 'There is no gauge yet.', resolution: 'Resolution', due: 'Calibration due', overdue: 'Due since {{date}}' },
  canCode: {
    why: 'Why (kept with the version)', whyHint: 'Such as: a new printer, halves are told apart from now on',
    add: 'Add a pattern', loading: 'the can-code patterns', empty: 'No pattern yet: an incident’s code is then read by people only.', text: 'How each line writes the code on its cans. A pattern is never edited: a new one takes over from its date, and codes from before stay readable.',
    line: 'Line', pattern: 'Pattern', codedAt: 'Printed at', clock: 'Clock uncertainty (min)', clockHint: 'By how much the printer’s clock may be wrong, each way', clockBad: '0 to 1440 minutes', minutes: '± {{minutes}} min', from: 'In use from', until: 'Until', state: 'State', author: 'By', retire: 'Retire', retireOf: 'Retire the pattern of {{line}}',
    states: { 'in-force': 'in use', planned: 'planned', superseded: 'superseded', retired: 'retired' }, example: 'A code from a can', exampleHint: 'A real one whose time you know', printed: 'A can made now would carry', fault: 'At character {{position}}: needs {{expected}}.', misfit: 'The code does not fit at character {{position}}: {{expected}} is expected.',
    refusal: { 'no-such-day': 'There is no {{named}}.', 'no-such-time': 'There is no time {{named}}.', 'skipped-by-the-clock': '{{named}} did not exist: the clock was put forward then.', 'after-receipt': '{{named}} lies in the future.', 'not-in-force': 'The pattern was not in use on {{named}}.' },
    meaning: '{{where}}, {{from}} to {{until}}', right: 'It reads: {{meaning}}. That is right.', several: 'It can be read in more than one way. Which one is right?',
    fields: { line: '{line}: code of the line', year: '{year:1}, {year:2}, {year}: one, two or four digits', dayOfYear: '{day-of-year}: three digits', monthDay: '{month}{day}: two digits each', hour: '{hour}, {minute}: two digits each, by the plant’s clock', shift: '{shift}: one letter, of the name of a shift of the plant; it narrows the time to the hours of that shift', made: '{machine}, {unit}, {lane}: codes as they stand in the set-up', text: '{text:3}, {text}: anything, of that length or of any' },
  },
  person: { add: 'Add a person', edit: 'Change {{login}}', empty: 'There is nobody yet.', login: 'Login name', role: 'Role', roleHint: 'Operators log checks; technicians also correct and import; engineers freeze limits and set up; managers close incidents; auditors read.', state: 'State', active: 'active', disabled: 'disabled', demo: 'active, demo password', password: 'Password', newPassword: 'New password', passwordHint: 'At least 12 characters.', disable: 'Disabled', disableHint: 'Ends the person’s sessions at once. Records keep the name.' },
  synonym: {
    own: 'Words of this plant', text: 'The search for past fixes takes these words as the same. A word belongs to one group only; what is retired no longer counts.', empty: 'None yet: add the words that your people use and the trade does not.', add: 'Add synonyms', edit: 'Change “{{name}}”',
    preferred: 'Preferred word', preferredHint: 'A preferred word of the trade adds yours to its group.', others: 'Words that mean the same', othersHint: 'Press Enter or a comma after each word.', by: 'By', changed: '{{author}}, {{at}}', loading: 'the synonyms',
    trade: 'Words of the trade', tradeText: 'Common practice, no source, but for the Chinese terms (GB/T 14251-2017); French, German and Spanish from memory. They come with the program.', tradeEmpty: 'There are none.',
    ambiguous: 'Words with two meanings', ambiguousText: 'The search asks which one is meant and never merges them.', ambiguousEmpty: 'There are none.', word: 'Word', meanings: 'Meanings', meaning: '{{preferred}}: {{hint}}',
  },
  audit: { text: 'Each change with who, when, old and new value. Nobody can edit or remove a line of it.', subject: 'Subject', subjectHint: 'For example “check 12” or “signal 3”; empty for all.', empty: 'Nothing was done to that.', older: 'Show older ones', at: 'When', who: 'Who', what: 'What', before: 'Before', after: 'After' },
} as const;
