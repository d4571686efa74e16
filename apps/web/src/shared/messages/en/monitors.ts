export const monitors = {
  section: 'In-line monitors', loading: 'the feeds', link: 'In-line monitors', back: 'Set-up',
  text: 'In-line monitors publish to an MQTT broker; the tool listens, stores every body and judges subgroups as they come.',
  empty: { title: 'No feed', text: 'Name the broker that the plant’s monitors publish to, then say what their messages mean.' },
  add: 'Add a broker', change: 'Change', changeOf: 'Change {{name}}', addTopic: 'Map a topic', save: 'Save', cancel: 'Cancel', remove: 'Take away', removeOf: 'Take {{filter}} away',
  connection: { stopped: 'Stopped', connecting: 'Connecting', connected: 'Connected', waiting: 'Waiting for the broker', refused: 'Refused' },
  since: '{{state}} since {{at}}', heard: 'Last message {{at}}', silent: 'No message yet', clock: 'Clock of the devices {{seconds}} s from the server’s',
  off: 'Switched off',
  figures: { messages: 'Messages', readings: 'Readings stored', subgroups: 'Subgroups formed', repeated: 'Repeats, stored once', late: 'Readings put in place late', retained: 'Retained, not new', refused: 'Refused', serverTimed: 'By the server’s clock' },
  broker: { name: 'Name', url: 'Address', urlHint: 'mqtt://host:1883 or mqtts://host:8883, without user and password', clientId: 'Client id', clientHint: 'One that no other client of the broker has: under it the broker keeps what was not yet taken', protocol: 'Protocol', four: 'MQTT 3.1.1', five: 'MQTT 5', user: 'Variable with the user', password: 'Variable with the password', variableHint: 'Name of an environment variable of the server, such as SEAMLEDGER_MQTT_USER; the secret itself is not kept here', enabled: 'Listen to it' },
  topics: {
    unreadable: 'The topic {{filter}} cannot be read', unreadableText: 'Its stored definition is not one that this version understands, so this feed does not run; the others do. Take the topic away and add it anew.', title: 'Topics', none: 'No topic is mapped: nothing is taken yet.', filter: 'Topic filter', machine: 'Machine', product: 'Product', means: 'Meaning', fromPayload: 'as the message says', noProduct: '–', readings_one: '{{count}} channel; {{size}} in a row of every {{every}}', readings_other: '{{count}} channels; {{size}} in a row of every {{every}}', counts: 'production counts', event: 'line events' },
  topic: {
    filterHint: '+ is one level, # all that follow', kind: 'What the messages are', kinds: { readings: 'Readings of bodies', counts: 'Production counts', 'line-event': 'Line events' }, productHint: 'Empty where the message names it',
    time: 'Pointer to the time', timeHint: 'JSON pointer, such as /at; empty for the server’s clock', format: 'Time is written as', formats: { iso: 'ISO 8601 with zone', seconds: 'seconds since 1970', milliseconds: 'milliseconds since 1970' },
    count: 'Pointer to the body counter', each: 'Pointer to the array of bodies', eachHint: 'Empty where a message is one body', productPointer: 'Pointer to the product code', channels: 'Channels', channelsHint: 'One a line: pointer; characteristic; lane or –; unit or –; factor. For example: /overlap; weld-overlap; A; –; 0.001',
    size: 'Bodies of a subgroup', every: 'Begins with every … body', everyHint: 'Of the counter; without a counter, every so many seconds', minutes: 'Length of a span (min), or its pointer', good: 'Pointer to the good cans', rejected: 'Pointer to the rejected cans', event: 'Kind of event, or its pointer', words: 'Text, or its pointer', key: 'Pointer to the key', keyHint: 'What tells an event from its repeat',
    late: 'Oldest message taken (h)', ahead: 'Clock ahead by at most (s)', policy: 'Beyond that', policies: { quarantine: 'keep apart', 'server-time': 'take the server’s clock' }, badChannel: 'Line {{line}} of the channels: {{what}}', parts: 'needs a pointer and a characteristic', unknown: '“{{word}}” is not known at this machine',
  },
  dropped_one: '{{count}} message went from here undecided: the quarantine of a plant keeps at most {{most}} messages, for {{days}} days.', dropped_other: '{{count}} messages went from here undecided: the quarantine of a plant keeps at most {{most}} messages, for {{days}} days.',
  quarantine: {
    title: 'Messages kept apart', none: 'Nothing is kept apart.', waiting_one: '{{count}} message waits', waiting_other: '{{count}} messages wait', topic: 'Topic', reason: 'Why', payload: 'Message', when: 'Came', times_one: 'once, {{at}}', times_other: '{{count}} times, last {{at}}', choose: 'Choose message {{id}}', all: 'Choose all',
    replay: 'Take them once more', asMeasured: 'Take them as measured', asMeasuredHint: 'Also readings outside what the can or the gauge allows', discard: 'Put aside', why: 'Why they are put aside', asked: 'Asked for: the feed takes them while it is switched on.', cut: '… {{bytes}} bytes in all',
  },
  keep: { title: 'How long every body is kept', days: 'Days', forEver: 'Empty: for ever', text: 'Whole months are dropped once they are older. Subgroups stay, and so do the minutes that a signal or an incident rests on.', saved: 'Saved', wrong: 'Needs a whole number of days, or nothing' },
} as const;
