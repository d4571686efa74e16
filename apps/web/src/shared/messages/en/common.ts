export const common = {
  app: {
    name: 'Seamledger', menu: 'Menu', screens: 'Screens', skip: 'Skip to the content', page: 'the page',
    person: '{{name}} ({{role}})', signOut: 'Sign out', signIn: 'Sign in',
    caution: 'The tool informs; it never releases product. Hold and release are decided by the plant, its process authority, local law and the customer’s specification.',
  },
  screens: { now: 'Now', log: 'Log a check', charts: 'Charts', signals: 'Signals', incidents: 'Incidents', holds: 'Holds', pastFixes: 'Past fixes', capability: 'Capability', studies: 'Studies', workbench: 'Workbench', planner: 'Planner', import: 'Import', records: 'Records', packs: 'Audit packs', setUp: 'Set-up' },
  roles: { operator: 'operator', technician: 'technician', engineer: 'engineer', manager: 'manager', auditor: 'auditor', administrator: 'administrator' },
  states: { steady: 'Steady', signal: 'Signal', due: 'Due', held: 'Held', 'not-judged': 'Not judged' },
  loading: 'Loading {{what}} …',
  version: { ready: 'A new version lies ready. What you are entering is kept.', load: 'Load it', later: 'Later' },
  chart: 'the chart',
  noSuchPage: { title: 'There is no such page', text: 'The address may be old. Choose a screen from the menu.' },
  notForAuditors: { title: 'Not part of an auditor’s view', text: 'This page belongs to the plant’s own people, or its address is old. An auditor’s account reads the records of one customer in one period on these screens:', ways: 'What you can look at' },
  error: {
    offline: 'The server was not reached', offlineText: 'Nothing you entered is lost here. Check the network and try again.',
    unexpected: 'This page could not be shown', unexpectedText: 'Load the page again. If it stays so, tell your administrator what you did.',
    retry: 'Try again', field: '{{field}}: {{expected}}', fieldRow: 'row {{row}}, {{field}}: {{expected}}',
  },
} as const;
