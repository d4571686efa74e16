export const weldWindows = {
  section: 'Weld windows', loading: 'the tested weld windows', add: 'Add a tested window', empty: 'No tested weld window yet', emptyText: 'Add the lower and upper limit of the welding current that a window test proved. Each check of the current then says where in the window it stands and, near an edge, how much is left.',
  text: 'What a window test proved: at the lower limit the weld still holds (below it the tear test fails), at the upper one it does not splash yet. A window belongs to the plate, speed and wire of its test. It informs; the welding trials of the plant decide what is welded.',
  noCharacteristic: 'No measured setting of the body maker is set up yet, such as the welding current in A. Add it under Characteristics first.',
  columns: { where: 'Where', product: 'Product', setting: 'Setting', window: 'Window', tested: 'Tested', from: 'Holds from', version: 'Version', who: 'By', change: 'Change' },
  line: 'Line {{line}}, every body maker', machine: 'Body maker {{machine}}', anyProduct: 'any product', of: '{{setting}}, {{where}}, {{product}}', range: '{{lower}} to {{upper}}', takenBack: 'Taken back', testedBy: '{{by}}, {{at}}',
  new: 'New version', newOf: 'New version of {{name}}', versions: 'Versions', versionsOf: 'Versions of {{name}}', version: 'Version {{version}}', compare: 'Two versions side by side',
  form: {
    title: 'Tested weld window', where: 'Where it was tested', product: 'Product', productHint: 'Empty: for any product that has no window of its own.', setting: 'Setting', lower: 'Lower limit ({{unit}})', lowerHint: 'The lowest setting at which the tear test still passed.', upper: 'Upper limit ({{unit}})', upperHint: 'The highest setting without splash.',
    nearEdge: 'Near an edge within (% of the width)', nearEdgeHint: 'A check warns within it. 20 % is common practice, no source.', material: 'Plate', materialHint: 'Tin mass, temper, coil.', speed: 'Welding speed (m/min)', wire: 'Wire', testedAt: 'Tested at', testedBy: 'Tested by', evidence: 'What the test showed', evidenceHint: 'Bodies, tear tests, splash counts; where the record lies.',
    from: 'Holds from', reason: 'Why this version', save: 'Save the version', cancel: 'Cancel', takeBack: 'Take the window back', takeBackHint: 'Checks from then on show the window of the line or of any product, else that none is tested.', badTime: 'A date and time of the plant’s clocks', zone: 'By the plant’s clocks, {{zone}}.',
  },
  facts: {
    title: 'Weld setting in its tested window', loading: 'the tested weld window', none: '{{setting}} {{value}}: no tested window for {{machine}} and this product. The number alone says nothing about the weld.', where: '{{setting}} {{value}}: {{percent}} % of the window {{range}} (0 % is the cold edge, 100 % the splash edge).',
    both: '{{low}} to {{high}}', zone: { below: 'Below the tested window: the test did not prove a weld there.', 'near-lower': 'Near the lower edge: {{left}} left before the cold edge.', inside: 'Inside, away from both edges.', 'near-upper': 'Near the upper edge: {{left}} left before splash.', above: 'Above the tested window: the test showed no setting without splash there.' },
    tested: 'Tested {{at}} by {{by}} at {{place}}, version {{version}}; plate: {{material}}; speed: {{speed}}.', notSaid: 'not said', evidence: 'Evidence: {{evidence}}', coil: 'A coil was changed after the test ({{text}}, {{at}}): only a test of this coil shows its window.',
    margin: 'Near means within {{percent}} % of the width{{usual}}. Informs only: the welding trials of the plant decide.', usual: ' (common practice, no source)', part: '{{what}}, {{part}}',
    trace: 'Welding current while these cans were welded', traceNone: 'No welding current is on record around that time.', when: 'When', machine: 'Body maker', value: 'Setting', place: 'In the window', said: 'What that means', before: 'before', in: 'meanwhile', after: 'after', check: 'Check {{id}}', noWindow: 'no tested window', percent: '{{percent}} %', more: 'More were recorded than are listed.',
    caption: 'The last setting on record before, those meanwhile, the next one after.',
  },
} as const;
