export const counters = {
  title: 'Running counters',
  text: 'What the counters of the machines showed last, and what each fall or jump was taken for. Cans that cannot be told leave a gap; a gap is not a time without cans, and the trace walks through it by time alone.',
  loading: 'the counters', empty: 'No machine is set up yet. Add machines under Lines first.',
  machine: 'Machine', line: 'Line', last: 'Last reading', good: 'Good', rejected: 'Rejected', rollsOver: 'Begins again after', fastest: 'At most', gaps: 'Gaps, last 7 days', set: 'Change', setOf: 'Change the counter of {{machine}}',
  never: 'none yet', noRejects: 'not counted', unknown: 'not stated', shown: '{{number}} cans', perMinute: '{{number}} cans/min', usualFastest: '{{number}} cans/min (usual)',
  noGaps: 'none', gap_one: '{{count}} span, {{minutes}} min', gap_other: '{{count}} spans, {{minutes}} min',
  form: {
    title: 'Counter of {{machine}}', rollsOverAt: 'Number of values', rollsOverHint: 'How many numbers the counter can show before it begins again at 0: 1,000,000 for six digits. Leave empty where it is not known: then every fall is a gap.',
    mostPerMinute: 'Fastest, cans/min', mostHint: 'A counter that rises faster was set by hand. Leave empty for {{usual}} cans/min, faster than a line of this kind makes cans (common practice, no source).',
    again: 'The readings of the last 31 days are looked at anew.',
  },
  decisions: {
    title: 'What was decided', loading: 'what was decided', none: 'Nothing had to be decided: no counter fell, jumped or was refused.', all: 'All machines', only: 'Machine', span: 'Readings', kind: 'Taken for', cans: 'Cans', why: 'Why', when: 'Decided', replaced: 'replaced later', noMachine: 'unknown machine',
    newest: 'The newest 200 at most. Decisions are kept as they were made.', known: '{{number}} cans', atLeast: 'not known, {{number}} at least', unknown: 'not known', spanOf: '{{from}} to {{until}}',
  },
  kinds: {
    counted: 'Counted after all', 'rolled-over': 'Roll-over', 'set-back': 'Set back to 0', 'went-backwards': 'Went backwards', jumped: 'Jumped', 'wrapped-unseen': 'May have gone round unseen', 'not-told': 'Counter missing',
    'too-far-apart': 'Too far apart', 'already-counted': 'Counted another way', late: 'Late reading', refused: 'Refused',
  },
  which: { good: 'good', rejected: 'rejected' },
} as const;
