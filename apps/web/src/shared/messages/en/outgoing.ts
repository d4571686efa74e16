export const outgoing = {
  wall: {
    title: '{{plant}}, wall board', asOf: 'As of {{time}}', starting: 'The board is being fetched.', foot: 'Screen “{{screen}}”. The board informs; what is held or released is decided by the plant.',
    noToken: 'This screen may not show the board', noTokenText: 'Its token was never given, was revoked, or has expired. An administrator makes a new one under Set-up, Messages out, and opens its address here.',
    noServer: 'The server does not answer', noServerText: 'The board comes by itself as soon as it does. If this stays, look at the network and at the server.',
    lost: 'No connection to the server since {{since}}. This is the board of {{time}} and may be wrong by now.', slow: 'No news from the server since {{since}}: the board is asked for every 10 s instead.',
    running: { running: 'Running', 'not-running': 'Stands since {{at}}', unknown: 'Not counted' },
    steady_one: '{{count}} machine steady', steady_other: '{{count}} machines steady', notJudged_one: '{{count}} not judged', notJudged_other: '{{count}} not judged',
    due: '{{machine}}: {{plan}}', over: 'late by {{time}}', never: 'never checked', moreSignals_one: 'and {{count}} more', moreSignals_other: 'and {{count}} more', moreDue_one: 'and {{count}} more', moreDue_other: 'and {{count}} more',
  },
  once: { copy: 'Copy', copied: 'Copied', kept: 'I have kept it' },
  out: {
    title: 'Messages out', back: 'Back to Set-up', act: 'Act', notYours: 'This is for administrators', notYoursText: 'An administrator sets up wall screens and webhooks. Your own e-mails are under Account, My notices.',
    mail: 'E-mail is chosen by each person under Account, My notices. The mail server is named by the environment variables SMTP_URL and MAIL_FROM of the server; PUBLIC_URL is the address that stands in e-mails.',
  },
  kiosk: {
    title: 'Wall screens', text: 'A wall screen shows the Now board without names of customers and people, and nothing else. Its address is its key: whoever has it can see the board until you revoke it.',
    name: 'Name of the screen', until: 'Ends at (empty: never)', make: 'Make a wall screen', made: 'Address of “{{name}}”', madeText: 'Open this address once in the browser of the screen. It is shown now and never again.', loading: 'the wall screens', empty: 'There is no wall screen yet.',
    since: 'Made', ends: 'Ends', never: 'never', state: 'State', states: { active: 'active', expired: 'expired', revoked: 'revoked' }, revoke: 'Revoke', revokeOf: 'Revoke {{name}}',
  },
  hook: {
    links: 'Messages link to the pages under {{address}}.', noLinks: 'Messages carry no links: the server was started without PUBLIC_URL, the address under which people reach this installation. They have the path of the page alone.',
    title: 'Webhooks', text: 'Another program is told by HTTP POST, signed with a secret of its own. What is not taken is tried again for about two hours.', loading: 'the webhooks', empty: 'No other program is told yet.',
    name: 'Name', url: 'Address (http:// or https://)', what: 'Tell it of', kinds: { signal: 'raised signals', overdue: 'overdue checks' }, internal: 'May lie inside the plant’s network', internalHint: 'Else addresses such as 10.x, 192.168.x and this machine itself are refused. Link-local addresses always are.', internalYes: 'inside the network allowed',
    make: 'Add a webhook', made: 'Secret of “{{name}}”', madeText: 'The receiver computes the signature with it. It is shown now and never again.', last: 'last delivered {{at}}', noneYet: 'nothing delivered yet', trouble: '{{waiting}} waiting, {{failed}} given up',
    active: 'Switched on', test: 'Send a test', testOf: 'Send a test to {{name}}', remove: 'Remove', removeOf: 'Remove {{name}}', removeSure: 'Remove the webhook “{{name}}”? Its log stays.',
  },
  log: {
    title: 'Delivery log', loading: 'the delivery log', empty: 'Nothing was sent yet.', made: 'Made', to: 'Webhook', kind: 'Message', state: 'State', answer: 'Last answer', status: 'HTTP status {{status}}', attempts_one: '{{count}} attempt', attempts_other: '{{count}} attempts',
    states: { waiting: 'waiting', delivered: 'delivered', failed: 'given up' }, again: 'Send again', againOf: 'Send message {{id}} again',
  },
  mine: {
    title: 'My notices', loading: 'your notices', account: 'Back to Account', reader: 'An auditor is told nothing', readerText: 'Notices are for people who act on them.', noServer: 'No mail server is set', noServerText: 'Your choice is kept, but nothing is sent until the server is started with SMTP_URL and MAIL_FROM.',
    mail: 'E-mail', address: 'E-mail address', signals: 'Tell me of raised signals', overdue: 'Tell me of overdue checks',
    digest: 'How often', hourly: 'About one stream or check you get at most one e-mail an hour.', atOnce: 'As it comes', every_one: 'At most one e-mail in {{count}} hour', every_other: 'At most one e-mail in {{count}} hours', waiting_one: '{{count}} message waits for its time.', waiting_other: '{{count}} messages wait for their time.', save: 'Save', saved: 'Saved.', end: 'End all e-mails to me',
  },
  calendar: {
    title: 'Calendar of due checks', text: 'Your calendar program can subscribe to the checks that are due and will fall due. The address is a secret: whoever has it can read them.', none: 'You have no address yet.', since: 'Your address was made {{at}}.', made: 'Address of your calendar', madeText: 'It is shown now and never again. A new one ends this one.', make: 'Make an address', again: 'Make a new address', end: 'End the address',
  },
} as const;
