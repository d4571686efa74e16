export const users = {
  signIn: {
    title: 'Sign in', login: 'Login name', password: 'Password', go: 'Sign in', working: 'Signing in …',
    demo: 'Demo plant: sign in as {{logins}} with the password seamledger-demo. These accounts work on this machine only.',
  },
  firstRun: {
    title: 'Make your plant', text: 'This installation is empty. Name the plant and make its first administrator; lines, products and people follow under Set-up.',
    plantName: 'Name of the plant', timeZone: 'Time zone of the plant', timeZoneHint: 'Times are shown by the plant’s clocks and stored in UTC.', name: 'Your name, as it is to stand on records', login: 'Login name', loginHint: 'Small letters, digits, dots and hyphens.',
    password: 'Password', passwordHint: 'At least 12 characters.', go: 'Make the plant', working: 'Making the plant …',
  },
  account: {
    title: 'Account', name: 'Name', login: 'Login name', role: 'Role', change: 'Change password', old: 'Present password', next: 'New password', nextHint: 'At least 12 characters. Your other sessions are ended.', go: 'Change password', working: 'Changing …', done: 'The password is changed. Other sessions of this account are ended.',
  },
} as const;
