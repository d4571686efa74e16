export const queue = {
  title: 'On their way to the server',
  header: { away: 'No network: entries are kept here', needing_one: 'One check needs you', needing_other: '{{count}} checks need you', waiting_one: 'One check waits to be sent', waiting_other: '{{count}} checks wait to be sent' },
  row: '{{machine}} · {{plan}} · {{product}}', picked: 'Cans picked {{at}}, entered {{entered}}, $t(counts:can, {"count": {{cans}} })',
  states: { waiting: 'Waiting', sending: 'Sending', stored: 'Stored', 'needs-you': 'Needs you' },
  open: 'Check {{id}}', clearStored_one: 'Take the stored one off this list', clearStored_other: 'Take the {{count}} stored ones off this list',
  others_one: 'One check of {{name}} waits in this browser. It is sent when {{name}} signs in here.', others_other: '{{count}} checks of {{name}} wait in this browser. They are sent when {{name}} signs in here.',
  kept: {
    title: 'Kept on this device', away: 'The server is not reached. The check is kept in this browser, also when it is closed, and sent by itself when the network is back. It is stored once.', busy: 'The server could not take it yet. The check is kept in this browser and sent by itself. It is stored once.',
    verdict: 'The verdict comes when the server has the check. Until then nobody has judged these cans: follow the plant’s procedure.',
    returned: 'The check needs you', returnedText: 'It was not stored. It is kept under “On their way to the server”, with the reason and the ways on.',
  },
  returned: { title: 'It was not stored, and is kept here', unreadable: 'The answer of the server could not be read. The check may be stored: sending it again does no harm, it is stored once.', readings: 'What was measured', line: '{{code}}: {{readings}}' },
  changed: {
    machine: 'The machine is no longer there, or is retired.', product: 'The product is no longer there, or is retired.', plan: 'The check plan is no longer there, or asks for other cans, points or characteristics now.',
    plate: 'A plate thickness or the overlap factor of the product was changed since you measured: derived values are computed with the new ones.', specification: 'A specification of the product was changed since you measured.',
  },
  unreadableRow: { title: 'An entry that cannot be read', text: 'It is kept in this browser, and this version of the program cannot read it. It is not sent. Copy what was measured and enter it as a new check; the other entries are sent as usual.', raw: 'The entry as it is kept', save: 'Save as a file' },
  act: { sendAsIs: 'Send as it was measured', asMeasured: 'It is as measured: send', asNew: 'Send as a check of its own', again: 'Send again', takeBack: 'Take back into the form', discard: 'Discard', sure: 'Discard for good: the readings are lost' },
  notTaken: { changed: 'The check plan is another one now: the readings do not fit its grid. They can be sent as they were measured.', occupied: 'The form of this plan holds another entry. Save or empty that one first.' },
} as const;
