export const now = {
  title: 'Now', loading: 'the board', asOf: 'As of {{time}}', stale: 'The server does not answer; this is the board of {{time}}.',
  quiet: 'Nothing is wrong and nothing is due.', trouble: '{{signals}}, {{due}}, {{incidents}}',
  signals_one: '{{count}} signal not closed', signals_other: '{{count}} signals not closed', due_one: '{{count}} check due', due_other: '{{count}} checks due', incidents_one: '{{count}} incident open', incidents_other: '{{count}} incidents open',
  noLines: 'No line is set up yet', noLinesText: 'Set up lines, machines and check plans first; then checks can be logged.', setUp: 'Go to Set-up',
  running: { running: 'Running', 'not-running': 'Not running since {{at}}: nothing falls due', unknown: 'No production counts: intervals go by the clock' },
  noMachines: 'no machine', notCharted: 'nothing charted here', lastCheck: 'last check {{at}}', noCheck: 'no check yet', machineSignals_one: '{{count}} signal', machineSignals_other: '{{count}} signals', machineDue_one: '{{count}} check due', machineDue_other: '{{count}} checks due',
  dueTitle: 'Checks due', dueNone: 'No check is due.', dueText: 'An interval is advice of the plan; being over it is late, not a violation.', dueFor: '{{plan}} on {{machine}} ({{product}})', log: 'Log it',
  signalsTitle: 'Newest signals', signalsNone: 'No signal is open.', allSignals: 'All signals', incidentsTitle: 'Open incidents', incidentsNone: 'No incident is open.', incident: '{{defect}}, {{customer}}', incidentOn: '{{line}}, product {{product}}, received {{at}}',
  age: { minutes: '{{minutes}} min', hours: '{{hours}} h {{minutes}} min', days: '{{days}} d {{hours}} h' },
  steps: { slitter: 'Slitter', 'body-maker': 'Body maker', 'stripe-applicator': 'Side stripe', 'curing-oven': 'Curing oven', parter: 'Parter', necker: 'Necker', flanger: 'Flanger', beader: 'Beader', seamer: 'Seamer', tester: 'Tester', palletizer: 'Palletizer' },
} as const;
