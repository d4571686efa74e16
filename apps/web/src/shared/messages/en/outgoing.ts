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
} as const;
