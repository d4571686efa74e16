export const entry = {
  keys: 'Type the digits: the point is put in where the gauge has it, and you see the number before it counts. Type a point to place it yourself.', keysMore: 'Enter moves on, arrows move in the grid, Backspace in an empty cell goes back, Ctrl+Z undoes.',
  filled: '{{done}} of {{of}} readings', filledSkipped: '{{done}} of {{of}} readings, {{skipped}} left out',
  advance: 'Go on by itself when a number is complete',
  grid: { counts: '= {{value}}', leftOut: 'left out: {{reason}}', second: '2nd: {{value}}' },
  bar: {
    title: 'The cell being entered', none: 'Choose a cell to begin.', value: '{{value}} {{unit}}', counts: '“{{text}}” counts as {{value}} {{unit}}',
    undo: 'Undo', redo: 'Redo', leaveOut: 'Leave out', second: 'Second reading', changeSecond: 'Change second reading', showPad: 'Number pad', hidePad: 'Hide pad',
    rate: '{{name}} ({{unit}})', rating: '{{value}} {{unit}}',
  },
  pad: { title: 'Number pad', point: 'Point', minus: 'Minus', back: 'Delete one digit', next: 'Next cell' },
  leaveOut: {
    title: 'Leave out, with the reason', what: 'What is left out', cell: 'This cell', can: 'The whole can', close: 'Close', own: 'Another reason', go: 'Leave out', short: 'A reason of at least {{count}} characters is expected.',
    reasons: { damaged: 'Can damaged', 'none-left': 'No can to measure', gauge: 'Gauge missing or faulty', impossible: 'Cannot be measured here' },
  },
  second: {
    title: 'Second reading', close: 'Close', first: 'First reading: {{value}} {{unit}}', label: 'Second reading ({{unit}})', counts: 'Counts as {{value}} {{unit}}.', empty: 'Leave it empty to take the second reading away.', unreadable: 'A number such as 1.65 is expected.',
    rule: 'The first reading stays the one that is judged. Both are kept and can be read later.', keep: 'Keep second reading',
  },
  serial: {
    title: 'Serial gauge: {{state}}', states: { off: 'not connected', opening: 'connecting', on: 'connected', failed: 'not connected', denied: 'not connected', lost: 'connection lost' },
    baud: 'Speed (baud)', pattern: 'Where the number stands in a line', patternHelp: 'A regular expression whose first group is the number, a second one the unit. Empty: a number at the end of the line. Kept on this device.', patternWrong: 'A regular expression with a group for the number is expected, such as ^X([0-9.]+).',
    connect: 'Connect a gauge', disconnect: 'Disconnect', failed: 'The port could not be opened. Is another program using it?', denied: 'The browser does not let this page use serial ports. Allow it in the browser’s settings of this page, or ask whoever looks after this computer.', lost: 'The gauge is gone. Check the cable and connect again.',
    noCell: 'A reading came, but no cell is chosen. Choose a cell and send it again.', took: '{{cell}}: {{value}} {{unit}} taken.', taken: 'A reading came and was not taken: {{cell}} has one already. Choose the cell that is meant and send it again.', paused: 'A reading came while another window was open, and was not taken. Send it again.',
    faults: { 'no-number': 'No number found in “{{line}}”.', 'other-unit': '“{{line}}” is in another unit than {{unit}}.', 'bad-pattern': 'The pattern cannot be used.' },
  },
  counts: { title: 'Counts', of: '{{name}} ({{unit}})', inspected: 'Inspected (cans)', nonconforming: 'Of these not in order (cans)', wrong: 'At most as many as were inspected are expected.' },
  limits: {
    show: 'Show the specification', hide: 'Hide the specification', later: 'Shown when every cell has a reading or a reason, so that nobody measures towards a limit.', now: 'Every cell is dealt with.',
    title: 'Specification of {{product}}, in force when the plant was last read', characteristic: 'Characteristic', lsl: 'Lower limit', target: 'Target', usl: 'Upper limit', revision: 'Revision',
  },
  problem: {
    rating: '{{cell}}: “{{text}}” is not a rating of the scale.', second: '{{cell}}: the second reading needs a number, and a first reading beside it.', count: '{{name}}: a whole number inspected, 1 or more, and at most as many not in order are expected.',
  },
  range: { between: '{{low}} to {{high}}', least: '{{low}} or more', most: '{{high}} or less' },
} as const;
