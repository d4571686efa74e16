/** Texts of the documents. {name} is filled in. */
export const en = {
  lang: 'en', decimal: '.',
  title: 'Audit pack', page: 'Page {page} of {pages}', unit: 'Unit', none: 'none', yes: 'yes', no: 'no',
  caution: 'This pack informs. It releases no product: hold, release, scrap and process deviations are decided by the plant’s process authority, local law and the customer’s specification. No minimum index is law.',
  order: 'In the order of proof: measurement system, stability, distribution, capability. An index of a process that is not shown to be stable is no proof.',
  sections: {
    scope: 'Scope', specification: 'Specification', measurement: 'Measurement system', stability: 'Stability', distribution: 'Distribution', capability: 'Capability', signals: 'Signals and what was done',
    incidents: 'Incidents and verification', missed: 'Missing checks', changes: 'Changes in the period', signatures: 'Signatures', method: 'Method and sources', findings: 'What must be explained', annex: 'Annex: all that must be explained',
  },
  annexNote: 'Counted here by kind; the annex at the end lists each.',
  findingKinds: {
    'no-data': 'No readings', 'not-stable': 'Not stable', 'not-judged': 'Points not judged by frozen limits', 'signal-without-cause': 'Signals without a cause', 'missed-checks': 'Missing checks', 'few-data': 'Too few subgroups', 'below-threshold': 'Indices below the customer’s threshold', 'no-gauge-study': 'No gauge study', 'gauge-study-failed': 'Gauge not acceptable', 'gauge-unknown': 'Gauge not named', 'calibration-overdue': 'Measured out of calibration', 'no-specification': 'No specification', 'specification-changed': 'Specification changed in the period', unsigned: 'Not reviewed by a second person',
  },
  rules: { 'beyond-limits': 'beyond limits', 'two-of-three': 'two of three', 'four-of-five': 'four of five', 'eight-in-a-row': 'eight in a row', 'nine-in-a-row': 'nine in a row', 'six-in-a-trend': 'six in a trend', 'fourteen-alternating': 'fourteen alternating', 'fifteen-inside': 'fifteen inside one sigma', 'eight-outside': 'eight outside one sigma' } as Readonly<Record<string, string>>,
  sides: { above: 'above', below: 'below', both: 'both sides' } as Readonly<Record<string, string>>,
  facts: {
    customer: 'Customer', plant: 'Plant', products: 'Products', period: 'Period', zone: 'Times are shown in', confidence: 'Confidence', madeAt: 'Frozen at', madeBy: 'By', version: 'Software version', hash: 'SHA-256 of inputs and results',
    head: 'Head of the audit chain', characteristics: 'Characteristics', readings: 'Readings', thresholds: 'Asked for by the customer’s template', pack: 'Pack',
  },
  until: 'until, not included', thresholdText: 'Cpk at least {cpk}, Ppk at least {ppk}, at least {subgroups} subgroups', noFindings: 'Nothing was found that must be explained.',
  findings: {
    'no-data': 'no reading in the period', 'not-stable': 'not stable (signals: {count})', 'not-judged': '{count} points not judged by frozen limits', 'signal-without-cause': 'signal {signal} of {at} has no cause', 'missed-checks': '{count} checks missing, the first after {at}',
    'few-data': '{count} subgroups, {needed} asked for', 'below-threshold': '{value}, {needed} asked for', 'no-gauge-study': 'no gauge study is part of this pack', 'gauge-study-failed': 'the gauge study approved {at} calls the gauge not acceptable', 'gauge-unknown': '{count} subgroups without a named gauge', 'calibration-overdue': '{count} subgroups measured out of calibration (first due {at})',
    'no-specification': 'no specification in force', 'specification-changed': 'specification changed in the period ({count} times, last {at})', unsigned: '{count} of {needed} checks not reviewed by a second person',
  },
  columns: {
    characteristic: 'Characteristic', revision: 'Revision', lsl: 'LSL', target: 'Target', usl: 'USL', from: 'In force from', reason: 'Reason', by: 'By', gauge: 'Gauge', resolution: 'Resolution', due: 'Calibration due', subgroups: 'Subgroups', overdue: 'Out of calibration',
    stream: 'Stream', state: 'State', rules: 'Rules', judged: 'Judged', notJudged: 'Not judged', signals: 'Signals', n: 'n', mean: 'Mean', sdWithin: 'Sigma within', sdOverall: 'Sd overall', min: 'Smallest', max: 'Largest', a2: 'Anderson-Darling A²', p: 'p', wording: 'Reading of p',
    index: 'Index', value: 'Value', low: '95 % from', high: '95 % to', at: 'At', rule: 'Rule', cause: 'Cause', action: 'What was done', machine: 'Machine', plan: 'Check plan', missed: 'Missing', until: 'Until', kind: 'Kind', text: 'Text', record: 'Record', meaning: 'Meaning', name: 'Name', role: 'Role', comment: 'Comment', about: 'About', finding: 'Finding', count: 'How many', limit: 'Limits',
  },
  states: { stable: 'stable', 'not-stable': 'not stable', 'not-judged': 'not judged' },
  wording: { 'may-be-normal': 'normal is not contradicted', 'not-normal': 'not normal' },
  chart: { mean: 'Means', individual: 'Individuals', range: 'Ranges', sd: 'Standard deviations', 'moving-range': 'Moving ranges', inForce: 'frozen limits {id} in force', ofPeriod: 'limits computed from this period, for information; no frozen limits in force', none: 'no limits: the readings give none', beyond: 'triangle = beyond a limit', alt: 'Control chart of {stream}: {points} points, {out} beyond a limit', histogram: 'Histogram of {stream}: {n} values from {min} to {max}', upper: 'UCL', lower: 'LCL', centre: 'centre' },
  periodLine: 'Of this period: centre {centre}, sigma {sigma}, mean {spread} {spreadCentre}; limits for n = {n}: {lower} to {upper}; {spread}: {spreadLower} to {spreadUpper}.',
  spreads: { 'xbar-r': 'range', 'xbar-s': 'standard deviation', 'i-mr': 'moving range' }, pooled: 'all streams pooled', whole: 'whole machine', approvedStudy: 'Approved gauge study {id}, {title}: {gauge}, {characteristic}; {study} of the study variation, {tolerance} of the tolerance, kappa {kappa}; {verdict}. Approved {at}.', verdicts: { acceptable: 'acceptable', conditional: 'acceptable with conditions', 'not-acceptable': 'not acceptable' }, byEye: 'by eye', noGauge: 'No gauge was named with these readings.', gaugeStudy: 'Gauge: {study} of the study variation, {tolerance} of the tolerance, {categories} distinct categories. The thresholds are the customer’s.', excluded: 'Left out of the baseline of limits {id}: {text}', excludedPoint: '{at}, subgroup {sequence}: {reason}', corrected: '{count} corrections of readings in the period',
  refusals: { 'too-little-data': 'too little data', 'mixed-formulas': 'readings by different formulas', 'no-specification': 'no limit to compare with', 'mixed-charts': 'streams charted in different ways', 'subgroups-too-large': 'subgroups too large for chart factors' },
  boundLower: 'Ppk, one-sided lower bound', ppm: 'Expected outside, ppm (within sigma): below {below}, above {above}', outside: '{found} of {units} units outside the specification; share at most {bound} with {confidence} confidence', unknown: 'unknown', reviewed: '{reviewed} of {stored} checks of this pack were reviewed by a second person.',
  underPack: 'Signatures under this pack', noSignature: 'Not signed: a draft.', more: '{count} more stand in the JSON file and the spreadsheet.', nothing: 'None in the period.', study: 'Study {id}: {title}', studyFacts: 'kept by {author} on {at}, method {method}, computed with version {version}', many: '{count} values, in the JSON file',
  incident: 'Incident {id}, {kind}, {state}', incidentFacts: 'can code {code}, received {at}; {complained} cans complained of, {leaking} of {examined} examined leaked; defect: {defect}', containment: 'Containment', verdict: 'Verified effect', closedWithout: 'Closed without a verified effect', verifications: 'Kept comparisons: {list}',
  method: [
    'Limits: centre ± 3 sigma/√n; sigma from the mean range by d2 (X-bar/R), the mean sd by c4 (X-bar/S) or the mean moving range by d2(2) (individuals). Montgomery, Introduction to Statistical Quality Control, ch. 6; ASTM MNL 7, part 3.',
    'Rules: Western Electric, Statistical Quality Control Handbook, 1956, as named at each stream. A process is called stable where every point was judged by frozen limits and no signal touches the period.',
    'Cp = (USL − LSL)/(6 sigma within), Cpk = min(USL − mean, mean − LSL)/(3 sigma within); Pp and Ppk with the sd of all members (n − 1). Intervals of Cp and Pp: chi-square; of Cpk and Ppk: Bissell 1990. Indices after ISO 22514-2 in their usual form.',
    'Normality: Anderson-Darling A² (D’Agostino and Stephens, Goodness-of-Fit Techniques, 1986); a large p does not prove a normal distribution.',
    'Share outside: exact bounds of Clopper and Pearson, 1934. Ratings and percentages get a share instead of an index.',
    'Gauge studies: analysis of variance (Montgomery and Runger 1993); thresholds are the customer’s. Electronic signatures carry name, time and meaning (21 CFR 11.50).',
    'Numbers are IEEE 754 doubles; the JSON file is canonical after RFC 8785 and its SHA-256 covers every input and result. The spreadsheet recomputes means, ranges, limits and indices by formulas. Anyone with the installation can recompute all figures from the stored readings with the command verify-pack.',
  ],
  sheet: { readings: 'Readings', figures: 'Figures', check: 'Check', takenAt: 'Picked at (UTC)', reading: 'Reading', ours: 'Pack', recomputed: 'Recomputed here', difference: 'Difference', spread: 'Spread', factor: 'd2, c4 or d2(2)', note: 'Recomputed by the formulas of this sheet from the sheet of readings. Individuals use moving ranges of neighbouring points. Where several formulas, sizes or gaps are present, only n and mean are recomputed.' },
};
export type PackWords = typeof en;

/** {name} replaced by its value; a name without a value stays as it is, so that the gap shows. */
export const fill = (text: string, values: Readonly<Record<string, string | number>>): string => text.replace(/\{(\w+)\}/g, (whole, name: string) => String(values[name] ?? whole));
