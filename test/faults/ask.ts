import type { Installation } from './installation.js';

/** One request by the engineer's session, while nothing is killed; anything but success is an error. */
export type Ask = (method: string, path: string, body?: object) => Promise<unknown>;

export const askOf = (installation: Installation): Ask => async (method, path, body) => {
  const answer = await fetch(`${installation.url}${path}`, { method, headers: { cookie: `seamledger_session=${installation.session}`, 'x-csrf-token': 'csrf-of-faults', ...(body ? { 'content-type': 'application/json' } : {}) }, ...(body ? { body: JSON.stringify(body) } : {}) });
  const text = await answer.text();
  if (answer.status >= 300) throw new Error(`${method} ${path} answered ${answer.status}: ${text.slice(0, 500)}`);
  return JSON.parse(text);
};
