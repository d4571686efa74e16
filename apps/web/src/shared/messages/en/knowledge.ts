export const knowledge = {
  title: 'Past fixes', newNote: 'Write a note', loading: 'past fixes', loadingNote: 'the note', loadingDefects: 'the list of defects',
  search: { label: 'What do you see?', placeholder: 'for example: leak at the crossover, short BH on one head', hint: 'Synonyms of the trade and misspelt words are understood.', synonyms: 'Words that mean the same', results_one: '{{count}} past fix', results_other: '{{count}} past fixes', newest: 'Newest first', clear: 'Clear the search', shown: 'The best {{shown}} of {{total}} are shown. Add a word or choose a filter.' },
  ambiguous: { title: '“{{term}}” has two meanings on a can line', ask: 'Which one do you mean? Until you say, only the word itself is looked for.', choose: '{{preferred}}: {{hint}}', taken: '“{{term}}” is taken as {{preferred}}.', again: 'Ask again', againFor: 'Ask again what “{{term}}” means' },
  facets: { title: 'Filters', defect: 'Defect', step: 'Step', machine: 'Machine', kind: 'Kind', verified: 'Verified effect', any: 'Any', counted: '{{name}} ({{count}})', clear: 'Clear the filters' },
  verified: { true: 'on record', false: 'not on record' },
  kind: { note: 'Root-cause note', incident: 'Incident' },
  state: { open: 'open', closed: 'closed' },
  hit: { why: 'Why it matched', moreReasons_one: 'One more reason', moreReasons_other: '{{count}} more reasons', helped_one: 'Helped in 1 closed incident', helped_other: 'Helped in {{count}} closed incidents', confirmed_one: 'confirmed once', confirmed_other: 'confirmed {{count}} times', verified: 'effect verified', notVerified: 'effect not verified', incidentTitle: 'Incident {{id}}', customer: 'Customer: {{customer}}', fix: 'Fix', noFix: 'No fix is on record yet.', changed: 'changed {{date}}' },
  match: { word: '“{{found}}”', beginning: '“{{found}}” begins with “{{word}}”', synonym: '“{{found}}” means the same as “{{word}}”', similar: '“{{found}}” is spelt like “{{word}}”', in: '{{reason}} in {{fields}}' },
  reasons: {
    'same-defect': 'same defect ({{value}})', 'same-machine': 'same machine ({{value}})', 'same-step': 'same step ({{value}})', 'same-place': 'same place on the can ({{value}})', words: 'speaks of {{value}}',
    'one-unit': 'tells of one head or unit alone, as here', 'all-units': 'tells of all heads or units, as here',
    'confirmed-before_one': 'confirmed once for a case like this', 'confirmed-before_other': 'confirmed {{count}} times for cases like this', 'rejected-before_one': 'rejected once for a case like this', 'rejected-before_other': 'rejected {{count}} times for cases like this',
  },
  fields: { title: 'title', symptom: 'symptom', place: 'place', cause: 'cause', howToCheck: 'how to check', fix: 'fix', verified: 'verified effect', about: 'defect, machine, customer' },
  empty: {
    nothing: { title: 'There are no notes yet', text: 'Close an incident or write a note: what was found out once is then found again here.' },
    noHit: { title: 'Nothing fits', text: 'Try fewer words, the name of the defect, or what the customer saw. Filters may also be too narrow.' },
  },
  note: {
    symptom: 'Symptom', place: 'Where', cause: 'Cause', howToCheck: 'How to check', fix: 'Fix', verified: 'How the fix was verified', notVerified: 'It is not on record that the fix was verified.',
    by: 'Written by {{author}} on {{date}}, revision {{revision}} of {{changed}}', defect: 'Defect', step: 'Step', machine: 'Machine', anyMachine: 'any machine of the step', edit: 'Revise', cancel: 'Cancel', save: 'Save',
    saved: 'Saved.', helped_zero: 'No closed incident cites this note yet.', helped_one: 'Helped in 1 closed incident.', helped_other: 'Helped in {{count}} closed incidents.', back: 'All past fixes',
  },
  form: {
    newTitle: 'Write a root-cause note', title: 'Title', titleHint: 'What a colleague would look for', symptomHint: 'What was seen, where it was measured, and what stayed normal', placeHint: 'Where on the can and on the line',
    defect: 'Defect', chooseDefect: 'Choose a defect', step: 'Step', chooseStep: 'Choose a step', machine: 'Machine', save: 'Save the note', citesSignal: 'The note will cite signal {{id}}.', citesIncident: 'The note will cite incident {{id}}; its texts are filled in below. Put them into words that help the next time.',
    caution: 'A note is experience, not an instruction. What is done with product is decided by the plant, its process authority, local law and the customer’s specification.',
    whatSaid: 'A title, symptom, cause, fix, defect and step are needed.',
  },
  links: { title: 'What it is linked to', none: 'It is not linked to a signal or an incident yet.', signal: 'Signal {{id}}: {{about}}', incident: 'Incident {{id}}: {{about}}', suggested: 'suggested: {{reason}}', confirmedBy: 'confirmed by {{name}}', confirm: 'It fits', reject: 'It does not fit', unlink: 'Take the link away', confirmFor: '{{act}}: {{what}}' },
  defect: { definition: 'Definition', where: 'Where', severities: 'Severity classes, each of its own scheme', noSeverity: 'No scheme was found that rates it.', severity: '{{scheme}}: {{class}} ({{basis}})', causes: 'Usual causes', noSource: 'common practice, no source', steps: 'Steps that can seed it', howToCheck: 'How to check', sources: 'Sources', about: 'About this defect: {{name}}', apart: 'The schemes serve different purposes. They are not translated into each other.' },
} as const;
