export const retention = {
  tab: 'Retention', loading: 'the retention rules',
  text: 'How long records are kept. None of them is ever deleted by itself; what is past its time is only listed, until an administrator deletes it with the password.',
  rules: {
    title: 'Rules by kind of record', kind: 'Kind of record', years: 'Kept for', source: 'Rests on', by: 'Set by', forEver: 'for ever: no rule is set', yearsOf_one: '{{count}} year', yearsOf_other: '{{count}} years', version: 'Version {{version}}, {{author}}, {{at}}: {{reason}}',
    set: 'Set a rule', change: 'Change', kindField: 'Kind of record', yearsField: 'Years', sourceField: 'Rests on (law, contract, the plant’s own rule)', reasonField: 'Why (kept with the version)', none: '–',
    hint: '21 CFR 113.100 and 114.100 and 9 CFR 318.307 (since moved to part 431) ask food packers for three years; the can maker’s records serve as their evidence, so customers often ask the same or more. Contracts and the law of the country may ask for longer: your customers and counsel decide.',
    kinds: { check: 'Checks and their readings', limits: 'Control limits', specification: 'Specifications', incident: 'Incidents', hold: 'Holds of product', study: 'Kept studies', pack: 'Audit packs', 'study-record': 'Capability, gauge and before/after studies' },
    atLeast_one: 'at least {{count}} year; never deleted here', atLeast_other: 'at least {{count}} years; never deleted here',
    onlyListed: 'Checks with their readings, audit packs, kept studies and superseded studies can be deleted once they are past their time and no legal hold keeps them. Control limits, specifications, incidents with their photos, holds of product and the audit trail are kept for ever, whatever a rule says. Readings of every body have a rule of their own under Set-up, In-line monitors.',
  },
  past: {
    title: 'Checks past their retention', noRule: 'No rule is set for checks: all are kept.', none: 'None: every check is younger than its retention.', kept_one: 'A legal hold keeps {{count}} of them.', kept_other: 'Legal holds keep {{count}} of them.',
    found_one: '{{count}} check taken before {{before}} may go: {{oldest}} to {{newest}}.', found_other: '{{count}} checks taken before {{before}} may go: {{oldest}} to {{newest}}.', most: 'At most {{most}} go in one act, the oldest first.',
    delete_one: 'Delete {{count}} check …', delete_other: 'Delete {{count}} checks …', onlyAdministrator: 'Only an administrator can delete them.',
  },
  pastRecords: {
    title: 'Packs and studies past their retention', noRule: 'No rule is set for packs and studies: all are kept.', line: '{{kind}}: {{count}} made before {{before}} may go.', kept_one: 'A legal hold keeps {{count}} more.', kept_other: 'Legal holds keep {{count}} more.',
    delete: 'Delete {{count}} …', deleteOf: 'Delete {{count}} …: {{kind}}', deleteTitle: 'Delete past their retention: {{kind}} ({{count}})', done_one: '{{count}} record deleted in act {{id}}.', done_other: '{{count}} records deleted in act {{id}}.',
    text: 'They are gone for good afterwards. Each is named in the audit trail with the SHA-256 of its content, with your name and reason; signatures stay. At most 1,000 go in one act, the oldest first. Ask your customers and counsel first.',
  },
  remove: {
    title: 'Delete checks past their retention', text: 'Checks and readings are gone for good afterwards; charts of that time are empty. Count, hash, your name and your reason stay in the audit trail, and so do signatures, signals and incidents. Ask your process authority, customers and counsel first.',
    reason: 'Why now', password: 'Your password', do: 'Delete for good', cancel: 'Cancel', done_one: '{{count}} check deleted in act {{id}}.', done_other: '{{count}} checks deleted in act {{id}}.',
  },
  holds: {
    title: 'Legal holds', text: 'Keeps checks, packs and studies from being deleted, whatever their age. A study that names no product is kept by every hold. It says nothing about cans: product is kept back under Holds.', place: 'Place a legal hold', empty: 'There is no legal hold.', name: 'Name', what: 'Keeps', checks: 'Checks', by: 'Placed', state: 'State', lift: 'Lift',
    customer: 'Customer', product: 'Product', incident: 'Incident number', from: 'Taken from', until: 'Taken until (not included)', reason: 'Why', fits: 'Give at least one. A check is kept when it fits all that is given.', incidentHint: 'Its line, from seven days before to seven days after the cans were made.',
    part: { customer: 'customer {{name}}', product: 'product {{name}}', incident: 'incident {{id}} and its line', from: 'from {{at}}', until: 'until {{at}}' }, placed: '{{by}}, {{at}}: {{reason}}', inForce: 'in force', lifted: 'lifted by {{by}}, {{at}}: {{reason}}', liftOf: 'Lift {{name}}', liftReason: 'Why it is lifted',
  },
  acts: { title: 'What was deleted', empty: 'Nothing was ever deleted.', at: 'When', who: 'Who', what: 'What', hash: 'SHA-256 over the seals or contents', why: 'Why', checks: '$t(counts:check, {"count": {{checks}} }) ($t(counts:subgroup, {"count": {{subgroups}} })) taken before {{before}}', records: '{{kind}}: {{count}} made before {{before}}' },
} as const;
