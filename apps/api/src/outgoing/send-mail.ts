import { createTransport, type Transporter } from 'nodemailer';
import type { Clock } from '../platform/clock.js';
import type { Reaction } from '../platform/outbox.worker.js';
import type { Outward } from '../platform/outward.js';
import type { Work } from '../platform/work.js';
import { findMail, updateMail } from './notices.store.js';

const MOST_ATTEMPTS = 20;
const PATIENCE_MS = 10_000;

/**
 * Sends one e-mail; throws where it is to be tried again. The message id is the e-mail's own, so that a receiver can tell
 * the second of two that a broken connection made. Without a mail server nothing is made to be sent.
 */
export function sendMail(work: Work, clock: Clock, { smtp }: Outward): Reaction {
  const transport: Transporter | null = smtp === null ? null : createTransport({ url: smtp.url, connectionTimeout: PATIENCE_MS, greetingTimeout: PATIENCE_MS, socketTimeout: PATIENCE_MS });
  return async ({ plantId, payload }) => {
    const id = payload['mailId'];
    const mail = typeof id === 'number' ? await findMail(work.read, plantId, id) : null;
    if (mail?.state !== 'waiting') return;
    const attempts = mail.attempts + 1;
    try {
      if (!transport || !smtp) throw new Error('no mail server is set (SMTP_URL)');
      await transport.sendMail({ from: smtp.from, to: mail.address, subject: mail.subject, text: mail.body, messageId: `<mail-${plantId}-${mail.id}-${mail.madeAt.getTime()}@seamledger.invalid>` });
    } catch (error) {
      const words = error instanceof Error ? error.message : String(error);
      const state = attempts >= MOST_ATTEMPTS ? 'failed' : 'waiting';
      await work.run((tx) => updateMail(tx, plantId, mail.id, { attempts, error: words.slice(0, 500), state }));
      if (state === 'waiting') throw error;
      return;
    }
    await work.run((tx) => updateMail(tx, plantId, mail.id, { attempts, state: 'sent', error: null, sentAt: clock.now() }));
  };
}
