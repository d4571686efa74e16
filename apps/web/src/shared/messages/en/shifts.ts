/** Set-up of the shifts. */
export const shift = {
  loading: 'the shifts', text: 'Records are shown with the shift in which they fell, by the clocks of the plant. Shifts as they are set up now are shown for the past as well.', empty: 'No shift is set up: records are shown without one.', add: 'Add a shift', begins: 'Begins', ends: 'Ends', clockHint: 'As the plant’s clocks show it, such as 06:00.', endHint: 'At or before the beginning: on the next day.', days: 'Days', daysHint: 'On which it begins.', hours: 'Hours', span: '{{begins}} to {{ends}}', everyDay: 'every day', remove: 'Take this shift away',
  dayNames: { monday: 'Monday', tuesday: 'Tuesday', wednesday: 'Wednesday', thursday: 'Thursday', friday: 'Friday', saturday: 'Saturday', sunday: 'Sunday' },
} as const;
