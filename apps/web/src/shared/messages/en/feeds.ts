export const feeds = {
  title: 'Feeds', loading: 'the tokens', text: 'A token lets a gauge, a monitor or a program send without a person. What it sent carries its name.', docs: 'The page for programmers: every address and field', empty: 'No gauge sends by itself yet. Make a token for the first one.',
  make: 'Make a token', name: 'Name', nameHint: 'Stands as “entered by” on what it sends, for example “Seam projector 2”.', token: 'Token', hint: '{{hint}}…', scopes: 'May send', scope: { checks: 'checks', counts: 'production counts', 'line-events': 'line events' },
  machines: 'Machines', machinesHint: 'Leave empty for every machine of the plant.', allMachines: 'all', perMinute: 'Requests a minute', perMinuteHint: 'Above it the server says how long to wait. A batch of up to 500 checks is one request.', limit: 'Limit', limitOf: '{{perMinute}} a minute',
  expires: 'Expires', used: 'Last used', never: 'never', state: 'State', until: 'until {{at}}', expired: 'expired {{at}}', revoked: 'revoked {{at}} by {{who}}: {{reason}}', revoke: 'Revoke', revokeOf: 'Revoke the token of {{name}}', revokeTitle: 'Revoke the token of {{name}}',
  reason: 'Reason', reasonHint: 'The next request with this token is refused, and it cannot be taken back. What it sent stays.',
  onceTitle: 'The token of {{name}}', once: 'It is shown this once and not kept: put it into the gauge’s program now.', copy: 'Copy', copied: 'Copied', kept: 'I have it',
} as const;
