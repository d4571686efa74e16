/** When somebody is told: the form of it, and its words on cards and in the delivery log. */
export const toldHours = {
  legend: 'When', zone: 'Times are those of the plant’s clock ({{zone}}).', at: 'Hours', any: 'At any hour', typed: 'In hours given here', shifts: 'In shifts of the plant', from: 'From', until: 'Until',
  outside: 'Outside them nothing is sent. An end before the beginning is the next day.', which: 'Shifts', follow: 'The hours follow the shift when the plant moves it. Outside it nothing is sent.', shiftOf: '{{name}}, {{begins}} to {{ends}}', goneOf: '{{name}} (not set up any more)',
  gone: '{{names}} is not set up any more. So that nothing is missed, messages are sent at any hour of the chosen days until somebody chooses anew here.', loading: 'the shifts',
  days: 'Days', daysText: 'On other days nothing is sent. Hours over midnight belong to the day on which they begin.', noDay: 'Choose at least one day.', noShift: 'Choose at least one shift, or other hours.', noHours: 'Give both ends of the hours.', half: 'Give both ends of the quiet hours, or leave both empty.',
  day: { monday: 'Monday', tuesday: 'Tuesday', wednesday: 'Wednesday', thursday: 'Thursday', friday: 'Friday', saturday: 'Saturday', sunday: 'Sunday' },
  quiet: 'Quiet hours', quietText: { mail: 'What comes in them waits, and comes together at their end.', hook: 'What comes in them waits, and is sent at their end, one message after the other.' }, quietFrom: 'Quiet from', quietUntil: 'Quiet until',
  change: 'Change when', changeOf: 'Change when {{name}} is told', changeNew: 'Change when the new webhook is told', newHook: 'A new webhook', saidOf: 'When: {{hours}}', title: 'When {{name}} is told', save: 'Save', cancel: 'Cancel', saved: 'Saved.',
  said: { any: 'at any hour', span: '{{from}} to {{until}}', shift_one: 'shift {{names}}', shift_other: 'shifts {{names}}', everyDay: 'every day', quiet: 'quiet {{from}} to {{until}}' },
  held_one: '{{count}} message waits for the end of quiet hours.', held_other: '{{count}} messages wait for the end of quiet hours.',
  states: { quiet: 'waits for the end of quiet hours', 'not-sent': 'not sent' }, why: { quiet: 'came in quiet hours', 'off-hours': 'came outside the hours of the webhook', 'off-day': 'came on a day that is not chosen' }, now: 'Send now', nowOf: 'Send message {{id}} now',
} as const;
