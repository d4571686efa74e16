/** Due checks, reaction plans and labels. */
export const floor = {
  over: {
    running: '{{over}} of running over the advisory interval of {{every}} min', clock: '{{over}} over the advisory interval of {{every}} min',
    cans: '{{cans}} cans over the advisory interval of {{every}} cans', neverMinutes: 'never checked; advisory interval {{every}} min', neverCans: 'never checked; advisory interval {{every}} cans', event: 'Due since {{at}}, after {{event}}',
    more_one: '{{count}} further event waits for the same check', more_other: '{{count}} further events wait for the same check',
  },
  event: '{{kind}} ({{text}})', units: 'Turn of {{units}}',
  turn: { title: 'Units of this check', asked: 'Asked for here: {{units}}, whose turn it is.', others_one: '{{count}} other unit', others_other: '{{count}} other units', openOne: 'Ask for {{unit}}, too', openAll: 'All of them' },
  source: 'Source: {{source}}', noSource: 'no source given',
  due: {
    title: 'Checks due', loading: 'The due checks', none: 'No check is due.', noneMine: 'Nothing of yours is due.', advice: 'An interval is advice of the plan; being over it is late, not a violation.',
    whose: 'Whose checks', mine: 'Mine', all: 'All', of: '{{plan}} on {{machine}}', product: '{{product}}, line {{line}}', log: 'Log it', skip: 'Skip', last: 'last check {{at}}', never: 'no check yet',
    count_one: '{{count}} check is due.', count_other: '{{count}} checks are due.', countMine_one: '{{count}} check of yours is due.', countMine_other: '{{count}} checks of yours are due.', unfold: 'Show them',
    fewer: 'Show the first {{count}}', more: 'Show all {{count}}',
    skipTitle: 'Skip: {{what}}', skipText: 'The reason is kept with your name and is listed with the missed checks.', reason: 'Reason', keep: 'Skip this check', cancel: 'Cancel', chooseMine: 'Choose my machines', mineTitle: 'My lines and machines', lines: 'Lines', machines: 'Machines', save: 'Save',
  },
  verdict: {
    in: 'In control: every value that could be judged is where its frozen limits expect it.', out_one: 'Not in control: {{count}} value is not where its frozen limits expect it.', out_other: 'Not in control: {{count}} values are not where their frozen limits expect them.',
    unknown: 'Not judged: at least one value has no frozen limits, so nothing is said of it.', nothing: 'Nothing of this check is judged by limits.',
    bad: '{{name}}: {{nonconforming}} of {{inspected}} not as they should be.', good: '{{name}}: none of {{inspected}} found not as it should be.',
    informs: 'Seamledger informs; it never releases product. Hold, release and scrap follow your plant’s process authority, the law and the customer’s specification.',
    next: 'Next check of this plan', nextAt: 'due at {{at}} (interval of {{every}} min)', nextIn: 'due after {{left}} more of running (interval of {{every}} min)', nextCans: 'due after {{left}} more cans (interval of {{every}} cans)', nextNow: 'due now', nextNone: 'The plan names no interval.', nextEvents: 'At once after: {{events}}',
    fixes: 'Past fixes that may fit', noFixes: 'No past fix is suggested for these signals.', fixOf: 'for signal {{id}}', loading: 'The verdict',
  },
  reaction: {
    title: 'Reaction plan', of: '{{scope}}, version {{version}}', stream: '{{characteristic}} on {{machine}}', streamUnit: '{{characteristic}} on {{machine}}, unit {{unit}}', step: '{{characteristic}} at {{step}}', by: 'written by {{author}} on {{at}}',
    none: 'The plant has written no reaction plan for this.', write: 'Write one in Set-up', loading: 'The reaction plans', empty: 'No reaction plan yet', emptyText: 'A reaction plan says what to do when a chart signals. It is shown with the verdict and on the signal.',
    add: 'Add a reaction plan', edit: 'New version of: {{scope}}', scope: 'For', characteristic: 'Characteristic', stepKind: 'Step', chart: 'Chart (leave empty for all charts of the characteristic at the step)', steps: 'Steps, one a line', stepsHint: 'Say who does what, in order. Holding and releasing product is decided by your process authority.', reason: 'Why this change', version: 'Version', when: 'When', who: 'Who', why: 'Why', history: 'All versions of: {{scope}}', show: 'All versions', save: 'Save', cancel: 'Cancel', takenBack: 'taken back', withoutSteps: 'Leave the steps empty to take the plan back.', change: 'Change', stepCount_one: '{{count}} step', stepCount_other: '{{count}} steps',
  },
  openers: {
    start: 'start', jam: 'jam', setting: 'adjustment', 'tooling-set': 'tooling set', 'coil-change': 'coil change', 'wire-change': 'wire change', 'roll-change': 'roll change', 'end-lot-change': 'end-lot change', 'long-stop': 'long stop',
  },
  plan: {
    everyCans: 'Cans between checks', everyCansHint: 'Beside or instead of the minutes; empty for none.', cansSource: 'Source of the interval in cans', unitsEachTime: 'Units each time, in rotation', unitsEachTimeHint: 'Those longest without a check come first; empty for all units.',
    openedBy: 'Opened at once by', longStop: 'A long stop is at least (minutes)', longStopHint: 'Needed where a long stop opens a check.', eventsSource: 'Source of the checks after events', reason: 'Why this change', minutes: '{{count}} min', cans: '{{count}} cans',
    history: 'Revisions of {{name}}', historyLoading: 'The revisions', revision: 'Revision {{revision}}, {{at}}', choose: 'Revisions of',
  },
  labels: {
    title: 'Machine labels', loading: 'The machines', print: 'Print', line: 'Line', allLines: 'All lines', scan: 'Scan to log a check', alt: 'QR code that opens the entry grid of {{machine}}', empty: 'No machine yet', emptyText: 'Add machines in Set-up.', address: 'The codes lead to {{origin}}. Print them from the address that the tablets use.', link: 'Machine labels to print', unreachable: 'This address is known only to this computer. A tablet that scans the label will not reach it.',
  },
} as const;
