export const originWeights = {
  section: 'Defect weights', loading: 'the weights of the defects', text: 'Where a defect begins, as shares of the steps. The tracer starts from them before it looks at any record. Those of the trade are common practice, no source; where your own incidents say otherwise, write your own. Rankings that were kept stay as they were.',
  defect: 'Defect', choose: 'Choose a defect', table: 'Where {{name}} begins', step: 'Step', part: 'What a fault of one only sits on', trade: 'Trade', plant: 'This plant', percent: '{{percent}} %', none: '–', inForce: { trade: 'The shares of the trade hold.', plant: 'Version {{version}} of the plant holds, by {{author}}, {{at}}: {{reason}}' },
  own: 'Defects with weights of this plant: {{names}}.', ownNone: 'No defect has weights of this plant yet.', write: 'Write a new version', of: '{{step}}, {{part}}: {{percent}} %', compare: 'Versions side by side', version: 'Version {{version}}',
  parts: { unit: 'a head, spindle or pocket', lane: 'a lane or half', machine: 'the machine' },
  form: { title: 'Weights of {{name}}', step: 'Step {{row}}', part: 'Sits on {{row}}', percent: 'Share in % {{row}}', add: 'Add a step', remove: 'Take row {{row}} out', removeShort: 'Take out', sum: 'Together {{percent}} % of 100 %.', reason: 'Why', reasonHint: 'For example: causes of the last thirty incidents.', save: 'Save the version', takeBack: 'Go back to the trade', cancel: 'Cancel' },
  used: { plant: 'Starting shares: version {{version}} of this plant’s weights for “{{defect}}”, by {{author}}, {{at}}.', trade: 'Starting shares: those of the trade (common practice, no source).' },
  finding: '{{percent}} % of such defects begin at this kind of step, after this plant’s weights (version {{version}}).',
} as const;
