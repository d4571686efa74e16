import { announce } from '../platform/outbox.js';
import type { Tx, Work } from '../platform/work.js';
import { insertMail, lastTold, listWaiting, lockPeopleWaiting, type Person } from './notices.store.js';
import { planMail, TOPIC_PAUSE_MS } from './plan-mail.js';
import { linkTo } from './tell-out.js';
import { minuteOfDay } from './told-hours.js';

const MOST_LINES = 50;

/** So many people are locked at a time. */
const AT_ONCE = 200;

/** Makes the e-mails whose time has come; answers how many. Any number of processes may do so at once. Nobody is passed over because others, who are quiet now, come before. */
export async function gatherMail(work: Work, publicUrl: string | null, now: Date): Promise<number> {
  let [made, after] = [0, { plantId: 0, userId: 0 }];
  for (;;) {
    const people = await work.run(async (tx) => {
      const waiting = await lockPeopleWaiting(tx, after, AT_ONCE);
      for (const person of waiting) made += await gatherFor(tx, person, publicUrl, now);
      return waiting;
    }, 60_000);
    const last = people.at(-1);
    if (people.length < AT_ONCE || !last) return made;
    after = last;
  }
}

async function gatherFor(tx: Tx, person: Person, publicUrl: string | null, now: Date): Promise<number> {
  const { plantId, userId } = person;
  const waiting = await listWaiting(tx, plantId, userId);
  const ids = planMail(waiting, person, await lastTold(tx, plantId, userId, new Date(now.getTime() - TOPIC_PAUSE_MS)), now, minuteOfDay(now, person.timeZone));
  if (ids.length === 0) return 0;
  const notices = waiting.filter(({ id }) => ids.includes(id));
  const mailId = await insertMail(tx, plantId, { userId, address: person.address, madeAt: now, ...write(person, notices, publicUrl) }, ids);
  await announce(tx, plantId, [{ kind: 'mail.due', payload: { mailId } }]);
  return 1;
}

function write({ plant, timeZone }: Person, notices: readonly { text: string; path: string; at: Date }[], publicUrl: string | null): { subject: string; body: string } {
  const clock = new Intl.DateTimeFormat('en-GB', { timeZone, dateStyle: 'medium', timeStyle: 'short' });
  const link = (path: string) => (publicUrl === null ? '' : `\n  ${linkTo(publicUrl, path)}`);
  const lines = notices.slice(0, MOST_LINES).map(({ text, path, at }) => `- ${text} (told ${clock.format(at)})${link(path)}`);
  const more = notices.length > MOST_LINES ? [`and ${notices.length - MOST_LINES} more`] : [];
  const first = notices[0]?.text.split('. ')[0] ?? '';
  return {
    subject: `${plant}: ${notices.length === 1 ? first : `${notices.length} messages`}`.replace(/[\r\n]+/g, ' ').slice(0, 200),
    body: [...lines, ...more, '', 'This informs; what is held, released or scrapped is decided by the plant.', `You chose these e-mails under Account, My notices, and end them there.${link('/account/notices')}`, ''].join('\n'),
  };
}
