export const sessions = {
  lock: {
    title: 'Locked', who: '{{name}} ({{role}}): nothing was done here for a while. Enter your password to go on.', kept: 'What you entered and have not sent yet stays on the page.',
    password: 'Your password', go: 'Unlock', out: 'Sign out', outLosing: 'Sign out (what is not sent is lost)',
  },
  own: {
    title: 'Where you are signed in', text: 'End what you do not know, and change your password then.', loading: 'your sessions', whereHead: 'Where', since: 'Since', active: 'Last used', state: 'State', act: 'Action',
    where: '{{browser}} on {{system}}, {{address}}', someBrowser: 'A program', someSystem: 'an unknown system', someAddress: 'address not kept', unknown: 'Not kept (opened before this version)',
    here: 'This one', locked: 'Locked', open: 'Open', end: 'End', endOf: 'End the session of {{where}}, since {{at}}',
  },
  rule: { title: 'Sessions', idle: 'Lock after (minutes without anything done)', hint: '1 to 480 minutes. It holds for everybody, from now on; what a page asks by itself does not count.', save: 'Set the minutes', saved: 'Sessions lock after {{minutes}} min.', loading: 'the rule for sessions' },
  auditor: {
    sees: 'Auditor’s view: products of {{customer}}, {{from}} to {{until}}.', none: 'No customer and period are set for this account yet: an administrator sets them under Set-up, People. Until then only your own account can be seen.',
    customer: 'Customer whose products are shown', from: 'Period from', until: 'Period until (not included)', expires: 'Account works until',
    cell: '{{role}}: {{customer}}, {{from}} to {{until}}, works until {{expires}}', cellNone: '{{role}}: sees nothing yet, no customer is set', needs: 'Only for the role auditor: fill in this and the three fields below. Without them the account sees nothing.',
  },
} as const;
