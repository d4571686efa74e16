export const production = {
  kinds: {
    'coil-change': 'Coil change', 'wire-change': 'Wire change', 'roll-change': 'Roll change', 'tooling-set': 'Tooling set', 'wash-down': 'Wash-down', stop: 'Stop', start: 'Start', jam: 'Jam',
    'shift-change': 'Shift change', setting: 'Setting', 'end-lot-change': 'End lot change', 'lacquer-change': 'Lacquer or powder change', other: 'Other',
  },
  form: {
    open: 'Enter a line event', title: 'What happened?', loading: 'the machines', line: 'Line', machine: 'Machine', wholeLine: 'The whole line', kind: 'Kind', at: 'When', until: 'Until (if it has ended)', text: 'What exactly', textHint: 'Coil number, which roll, from what to what',
    badTime: 'a date and time', save: 'Save', cancel: 'Cancel', saved: 'Saved: {{kind}}, {{at}}', needText: 'Say in a few words what happened.',
  },
} as const;
