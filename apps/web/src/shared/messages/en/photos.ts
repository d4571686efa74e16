/** Photos of sections at a check: taken at the entry, on their way, and on the page of the check. */
export const photos = {
  title: 'Photos', hint: 'JPEG, PNG or WebP, 10 MB each. A photo is kept as it was taken, with what the camera wrote into it, such as place and time.',
  take: 'Take a photo', takeOf: 'Take a photo of can {{number}}', choose: 'Choose a picture', chooseOf: 'Choose a picture of can {{number}}', none: 'No photos.',
  onCheck: 'Photos go to the server after the check, also later and without the network now.',
  ofCan: 'can {{number}}', ofNone: 'no one can', caption: '{{name}}, {{can}}', captionWho: '{{name}}, {{can}}, {{who}}, {{at}}', alt: 'Photo {{number}}: {{name}}, {{can}}', drop: 'Take photo {{name}} away', dropShort: 'Take away',
  refused: { large: '“{{name}}” has {{size}} MB; at most 10 MB are kept. Take it with a smaller size.', type: '“{{name}}” is not a JPEG, PNG or WebP picture.', many: 'A check has at most {{count}} photos.', storage: '“{{name}}” could not be kept: this browser keeps nothing, or its storage is full. Save the check first and add the photo on its page.' },
  can: 'Can shown', anyCan: 'No one can', removeWhy: 'Reason', removeDo: 'Take it off this page', removeNote: 'The picture itself stays on record.',
  way: {
    title: 'Photos on their way', of: '{{name}}, for check {{id}}', lost: '{{name}}, of an entry that is not here any more', waiting: 'Waiting', refused: 'Refused', save: 'Save a copy', again: 'Send again', discard: 'Discard', sure: 'Discard for good: the photo is lost',
    header_one: 'One photo waits to be sent', header_other: '{{count}} photos wait to be sent', headerRefused_one: 'One photo was refused', headerRefused_other: '{{count}} photos were refused',
  },
} as const;
