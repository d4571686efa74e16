import { announce } from '../platform/outbox.js';
import type { Work } from '../platform/work.js';
import { insertMail, lastTold, listWaiting, lockPeopleWaiting, type Person } from './notices.store.js';
import { minuteOfDay, planMail, TOPIC_PAUSE_MS } from './plan-mail.js';

const MOST_LINES = 50;

/** Makes the e-mails whose time has come; answers how many. Any number of processes may do so at once. */
export async function gatherMail(work: Work, publicUrl: string | null, now: Date): Promise<number> {
  return work.run(async (tx) => {
    let made = 0;
    for (const person of await lockPeopleWaiting(tx)) {
      const { plantId, userId } = person;
      const waiting = await listWaiting(tx, plantId, userId);
      const ids = planMail(waiting, person, await lastTold(tx, plantId, userId, new Date(now.getTime() - TOPIC_PAUSE_MS)), now, minuteOfDay(now, person.timeZone));
      if (ids.length === 0) continue;
      const notices = waiting.filter(({ id }) => ids.includes(id));
      const mailId = await insertMail(tx, plantId, { userId, address: person.address, madeAt: now, ...write(person, notices, publicUrl) }, ids);
      await announce(tx, plantId, [{ kind: 'mail.due', payload: { mailId } }]);
      made += 1;
    }
    return made;
  }, 60_000);
}

function write({ plant, timeZone }: Person, notices: readonly { text: string; path: string; at: Date }[], publicUrl: string | null): { subject: string; body: string } {
  const clock = new Intl.DateTimeFormat('en-GB', { timeZone, dateStyle: 'medium', timeStyle: 'short' });
  const link = (path: string) => (publicUrl === null ? '' : `\n  ${publicUrl.replace(/\/$/, '')}${path}`);
  const lines = notices.slice(0, MOST_LINES).map(({ text, path, at }) => `- ${text} (told ${clock.format(at)})${link(path)}`);
  const more = notices.length > MOST_LINES ? [`and ${notices.length - MOST_LINES} more`] : [];
  const first = notices[0]?.text.split('. ')[0] ?? '';
  return {
    subject: `${plant}: ${notices.length === 1 ? first : `${notices.length} messages`}`.replace(/[\r\n]+/g, ' ').slice(0, 200),
    body: [...lines, ...more, '', 'This informs; what is held, released or scrapped is decided by the plant.', `You chose these e-mails under Account, My notices, and end them there.${link('/account/notices')}`, ''].join('\n'),
  };
}
