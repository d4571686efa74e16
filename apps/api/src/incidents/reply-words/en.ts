import type { ReplyWords } from './reply-words.js';

export const en: ReplyWords = {
  locale: 'en-GB', cautionTitle: 'Note', notCounting: 'Draft: not an answer of the plant',
  caution: 'This answer informs. It releases no product and lifts no hold. What happens to product that is held, delivered or in the market is decided by people: by the plant and the packer, each with its process authority, under the law of the place and by the customer’s specification. Leaking or under-processed cans of low-acid food can cause fatal illness.',
  to: 'To: ', person: 'name of the person addressed',
  subject: ({ complaint, day, defect, product, number }) => `${complaint ? 'Your complaint' : 'A finding of our own about your cans'} of ${day}: ${defect}, ${product} (our number ${number})`,
  reported: 'What was reported', cansAt: (cans, place) => `${cans === 1 ? '1 can complained of' : `${cans} cans complained of`}; place of the leak: ${place}.`, faultAt: (place) => `Place of the fault: ${place}.`,
  which: 'Which cans', noCode: 'The code on the cans could not be read.', code: (code) => `Code on the cans: ${code}.`, made: (line, moment, zone) => `Made on line ${line}, ${moment} (${zone}), by the code and our records.`,
  examined: 'What we examined', noneExamined: 'No can has been examined yet: nothing is known of how many leak.',
  noneLeaked: (cans, bound) => `${cans} cans were examined and none of them leaked. That is not proof that none leaks: if they were drawn at random, up to ${bound} of the cans may leak, with 95 % confidence.`,
  leaked: (cans, leaking, share) => `${cans} cans were examined; ${leaking} of them leaked (${share}). Returned cans are chosen, not drawn at random: the share among all cans is not known from them.`,
  held: 'What was held back', heldOpen: 'what was held back, and where', heldNote: 'Holding back is not a decision about the product: see the note below.',
  cause: 'Cause', causeOpen: 'the cause, or that it is not known yet', causeKind: (kind, machine) => `Kind of cause: ${kind}${machine === null ? '' : `, at ${machine}`}.`,
  kinds: { plate: 'plate', 'tooling-wear': 'tooling wear', setting: 'setting', 'jam-or-restart': 'jam or restart', maintenance: 'maintenance', handling: 'handling', measurement: 'method of measurement', instruction: 'operator instruction', 'customer-side': 'on the customer’s side', unknown: 'not known' },
  did: 'What we did', didOpen: 'what was done, by when, or what will be done',
  verified: 'How the effect was verified', notCompared: (why) => `The effect was not verified by a comparison of measurements. ${why}`, notYet: 'The effect has not been verified yet. [when it will be]',
  ask: 'What we ask of you\n[what the customer is asked to do, and to send us]', signature: 'name, position and signature of the person who answers for this letter',
  compared: ({ characteristic, place, change, before, after, nBefore, nAfter, basis }) => `${characteristic} on ${place} was compared before and after this change: ${change}. Mean before ${before} (${nBefore} ${basis === 'cans' ? 'means of single cans' : 'means of subgroups'}), after ${after} (${nAfter}).`,
  difference: (difference, low, high) => `Difference ${difference}, 95 % interval ${low} to ${high}.`,
  control: {
    'in-control': () => 'No rule of the control chart fired after the change.', signals: ({ signalled, judged }) => `Rules of the control chart fired on ${signalled} of ${judged} subgroups after the change.`,
    'partly-judged': ({ notJudged, checks }) => `${notJudged} of ${checks} subgroups after the change were not judged by limits.`, 'not-judged': () => 'The subgroups after the change were not judged by limits.',
  },
  noWhy: 'The comparison shows that the two times differ or not; by itself it does not show why.',
  defects: {}, places: {},
};
