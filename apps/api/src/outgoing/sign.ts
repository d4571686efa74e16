import { createHmac } from 'node:crypto';

/** HMAC-SHA-256 (RFC 2104) over time and body, so that an old message cannot be sent again as a new one. */
export function signedHeaders(secret: string, body: string, about: { event: string; delivery: string; at: Date }): Record<string, string> {
  const timestamp = String(Math.floor(about.at.getTime() / 1000));
  return {
    'content-type': 'application/json', 'user-agent': 'seamledger', 'seamledger-event': about.event, 'seamledger-delivery': about.delivery, 'seamledger-timestamp': timestamp,
    'seamledger-signature': `v1=${createHmac('sha256', secret).update(`${timestamp}.${body}`).digest('hex')}`,
  };
}
