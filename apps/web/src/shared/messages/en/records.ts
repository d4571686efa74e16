export const records = {
  title: 'Records', loading: 'the records that wait', loadingSignatures: 'the signatures',
  intro: 'Each check is looked through and signed by a second person. Nobody reviews what they entered themselves. What stands out is not chosen at first: open it, then choose it.',
  days: { title: 'Days with records to review', all: 'All days', day: '{{day}}: {{count}}', none: 'Nothing of this day waits any more.', waiting_one: '{{count}} record waits', waiting_other: '{{count}} records wait' },
  empty: { title: 'Nothing waits for a review', text: 'Every check is signed as reviewed by a second person.' },
  table: {
    caption: 'Checks that no second person has reviewed as they are now, oldest first', choose: 'Choose check {{id}}', chooseAll: 'Choose all that you may review', check: 'Check', taken: 'Picked', where: 'Where', product: 'Product', by: 'Entered by', found: 'Found', shown: 'The {{count}} oldest are shown; sign them to see the next.',
    name: 'Check {{id}}', nothing: 'nothing beyond specification, no signal', outside_one: '{{count}} subgroup beyond specification', outside_other: '{{count}} subgroups beyond specification', signal: 'Signal {{id}}', corrected: 'corrected', again: 'corrected after a review', own: 'yours: needs another person',
  },
  sign: {
    reviewOpen_one: 'Sign {{count}} record as reviewed', reviewOpen_other: 'Sign {{count}} records as reviewed', approveOpen: 'Approve', reviewThis: 'Sign as reviewed',
    title: { reviewed: 'Sign as reviewed', approved: 'Sign as approved' },
    meaning: { reviewed: 'I have looked through these records as they are now. A review by a second person is no release of product.', approved: 'I approve this record as it is now. An approval here is no release of product.' },
    as: 'You sign as {{name}}, {{role}}. Time and meaning are kept with the signature; it cannot be taken back.',
    comment: 'Comment; may stay empty', password: 'Your password', do: 'Sign', cancel: 'Cancel', close: 'Close without signing', done_one: '{{count}} record signed.', done_other: '{{count}} records signed.',
  },
  signatures: {
    title: 'Signatures', none: 'Nobody has signed this yet.', meaning: { reviewed: 'reviewed', approved: 'approved' }, line: '{{name}}, {{role}}: {{meaning}}, {{at}}', comment: '“{{comment}}”',
    old: 'Does not cover it any more: changed since.', hash: 'Fingerprint of the record (SHA-256): {{hash}}', chain: 'Audit trail at that moment: number {{seq}}, {{hash}}',
  },
  verify: {
    title: 'Are the records as they were written?', text: 'Every act is a link of a chain, every check is sealed in it, and it tells what limits, specifications, studies, packs and signatures were when they were written. The comparison finds what was changed, removed or added past the program. It also runs as “npm run verify-audit”.',
    do: 'Compare now', running: 'Comparing …', fine: 'Nothing differs', faults_one: '{{count}} difference', faults_other: '{{count}} differences',
    counts: '{{rows}} audit rows and {{checks}} checks compared with their seals, {{heads}} places of the chain with what signatures noted, {{at}}.', unsealed_one: '{{count}} check was stored before sealing began: nothing can be said about it.', unsealed_other: '{{count}} checks were stored before sealing began: nothing can be said about them.',
    head: 'Head of the chain: {{seq}}:{{hash}}', headHint: 'Noted on paper, it shows later whether the end was cut off.',
    check: { changed: 'Check {{id}}: readings, statistics or header differ from what was stored', gone: 'Check {{id}} was removed', unsealed: 'Check {{id}} was written past the program', 'taken-back': 'Check {{id}} is marked as taken back, but no import was undone' },
    changedBefore: 'Check {{id}} was changed past the program before audit row {{auditId}} {{act}}, {{at}}', acts: { 'readings.recorded': 'added in-line readings to it', 'reading.corrected': 'corrected a reading of it', 'check.photo-added': 'added a photo to it', 'import.undone': 'took it back with its import' },
    audit: { altered: 'Audit row {{auditId}} ({{subject}}) or its link was altered', removed: 'Audit row {{auditId}} was removed', cut: 'Links are missing before audit row {{auditId}} ({{subject}})', unlinked: 'Audit row {{auditId}} ({{subject}}) was written past the program', 'other-head': 'Number {{seq}} of the chain is not what {{notedBy}} noted' },
    record: { changed: '{{name}} {{id}} is not what the trail told when it was written', gone: '{{name}} {{id}} was removed', unsealed: '{{name}} {{id}} was written past the program' },
    kinds: { limits: 'limits', specification: 'specification', study: 'kept study', 'study-record': 'study', pack: 'pack', signature: 'signature' },
    other: '{{name}}: {{count}}', others: 'Also compared: {{list}}.', untold: 'From before the trail told their content, so nothing can be said: {{list}}.', notCompared: 'Not compared beyond the acts in the trail: set-up of lines and products, incidents, holds, production counts and readings of every body.',
    call: 'Tell the administrator and whoever answers for the records. Nothing here was changed by the comparison.',
  },
} as const;
