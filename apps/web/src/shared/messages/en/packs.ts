export const packs = {
  title: 'Audit packs', intro: 'Choose a customer, products and a period: what an audit would ask about is listed at once, each with the way to it. Then freeze the evidence into one pack. A pack informs; it releases no product.',
  loadingChoices: 'customers and products', loading: 'the packs', loadingOne: 'the pack', checking: 'what would fail the audit',
  none: { title: 'No customer has a product yet', text: 'Name the customer of each product under Set-up, Products.', action: 'Open Set-up' },
  pick: { customer: 'Customer', products: 'Products', from: 'From', to: 'To, included', badPeriod: 'That period holds no day.', noProduct: 'Choose at least one product.', studies: 'Kept studies that belong to it', noStudies: 'No study was kept yet. Keep a gauge study on the Workbench, then choose it here.' },
  ready: {
    title: 'Before the pack is made', fine: 'Nothing stands in the way', fineText: 'Stable, judged, measured, reviewed: nothing in this period must be explained.', counts: '{{subjects}} characteristics, {{readings}} readings in the period.', found_one: '{{count}} thing must be explained or mended', found_other: '{{count}} things must be explained or mended', more_one: '… and {{count}} more', more_other: '… and {{count}} more',
    kinds: {
      'no-data': 'No readings', 'not-stable': 'Not stable', 'not-judged': 'Not judged by frozen limits', 'signal-without-cause': 'Signals without a cause', 'missed-checks': 'Missing checks', 'few-data': 'Too few subgroups', 'below-threshold': 'Below the customer’s threshold',
      'no-gauge-study': 'No gauge study', 'gauge-unknown': 'Gauge not named', 'calibration-overdue': 'Out of calibration', 'no-specification': 'No specification', 'specification-changed': 'Specification changed', unsigned: 'Not reviewed by a second person',
    },
    lines: {
      'no-data': '{{about}}: no reading in the period', 'not-stable': '{{about}} (signals: {{count}})', 'not-judged': '{{about}}: {{count}} points', 'signal-without-cause': '{{about}}: signal {{signal}} of {{at}}', 'missed-checks': '{{about}}: {{count}} checks, the first after {{at}}', 'few-data': '{{about}}: {{count}} subgroups, {{needed}} asked for',
      'below-threshold': '{{about}} {{value}}, {{needed}} asked for', 'no-gauge-study': 'No kept gauge study is chosen for this pack', 'gauge-unknown': '{{about}}: {{count}} subgroups', 'calibration-overdue': '{{about}}: {{count}} subgroups measured out of calibration, first due {{at}}', 'no-specification': '{{about}}', 'specification-changed': '{{about}}: {{count}} changes, the last on {{at}}', unsigned: '{{count}} of {{needed}} checks of {{about}}',
    },
  },
  make: { title: 'Title of the pack', defaultTitle: 'Evidence {{from}} to {{to}}', do: 'Freeze the pack', hint: 'Inputs and results are kept under one SHA-256 and never changed. What is open above stays in it as found.' },
  list: { title: 'Packs that were made', empty: 'No pack was made yet.', name: 'Pack', customer: 'Customer', period: 'Period', state: 'State', findings: 'To explain', made: 'Made', stale: 'stale: readings changed since', span: '{{from}} to {{to}}', by: '{{at}}, {{name}}' },
  states: { draft: 'draft', checked: 'checked', approved: 'approved' },
  jobs: { title: 'Being made', progress: '{{title}}: step {{done}} of {{total}}', waiting: '{{title}}: waits', failed: '{{title}} could not be made: {{error}}', cancelled: '{{title}} was stopped', stop: 'Stop', bar: 'How far {{title}} is' },
  one: {
    back: 'All packs', pdf: 'PDF', xlsx: 'Spreadsheet', json: 'All inputs and results (JSON)', language: 'Language of the documents', languages: { en: 'English', de: 'Deutsch' }, hash: 'SHA-256: {{hash}}', head: 'Audit trail at that moment: number {{seq}}, {{hash}}', version: 'Software version {{version}}',
    facts: '{{customer}}; {{products}}; {{from}} to {{to}}. {{subjects}} characteristics, {{readings}} readings. Frozen {{at}} by {{name}}.', findings: 'What must be explained', noFindings: 'Nothing was found that must be explained.', stale: 'Stale', staleText: 'Readings of its period were corrected, added or taken back after it was made. The pack stays as it is; make another one for the customer, and compare below.',
    verify: { title: 'Is it still true?', text: 'Every figure is computed anew from the frozen readings, and these are compared with what is stored now. It also runs as “npm run verify-pack”.', do: 'Recompute and compare', running: 'Recomputing everything …', equal: 'Equal to the last digit', differs_one: '{{count}} difference', differs_other: '{{count}} differences', counts: '{{figures}} figures recomputed from {{readings}} readings, {{at}}.', versions: 'Made by version {{pack}}, recomputed by version {{now}}.', more_one: '… and {{count}} more', more_other: '… and {{count}} more', where: 'Where', what: 'What', pack: 'Pack', now: 'Now', moved: 'Went on since, no difference of the evidence:' },
    kinds: { hash: 'bytes are not what was hashed', stored: 'not a pack of this installation', recomputed: 'inputs give another figure', corrected: 'corrected since', altered: 'stored otherwise, no correction says why', added: 'added since', removed: 'not stored any more', 'moved-on': 'went on since' },
  },
  template: {
    title: 'What {{customer}} asks for', open: 'Thresholds and sections', cpk: 'Cpk at least', ppk: 'Ppk at least', subgroups: 'Subgroups at least', sections: 'Sections of the PDF', reason: 'Reason', save: 'Save as the next version', saved: 'Saved as version {{version}}.', usual: 'The usual values; nobody has set others for this customer. 1.33: common practice.', version: 'Version {{version}}, {{at}}, {{by}}: {{reason}}',
    section: { scope: 'Scope', specification: 'Specification', measurement: 'Measurement system', stability: 'Stability', distribution: 'Distribution', capability: 'Capability', signals: 'Signals and what was done', incidents: 'Incidents and verification', missed: 'Missing checks', changes: 'Changes', signatures: 'Signatures', method: 'Method and sources' },
  },
} as const;
