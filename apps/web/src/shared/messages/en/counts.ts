/** A number with its noun, for sentences that hold several: "$t(counts:signal, {"count": {{raised}} })". */
export const counts = {
  signal_one: '{{count}} signal', signal_other: '{{count}} signals', incident_one: '{{count}} incident', incident_other: '{{count}} incidents', can_one: '{{count}} can', can_other: '{{count}} cans', person_one: '{{count}} person', person_other: '{{count}} people', photo_one: '{{count}} photo', photo_other: '{{count}} photos',
  subgroup_one: '{{count}} subgroup', subgroup_other: '{{count}} subgroups', reading_one: '{{count}} reading', reading_other: '{{count}} readings', check_one: '{{count}} check', check_other: '{{count}} checks', row_one: '{{count}} row', row_other: '{{count}} rows',
} as const;
