import { lookup } from 'node:dns';
import http from 'node:http';
import https from 'node:https';
import { isIP, type LookupFunction } from 'node:net';
import { mayPostTo } from './guarded-address.js';

export type PostAnswer = { status: number; excerpt: string };
const [PATIENCE_MS, EXCERPT] = [10_000, 500];
const REFUSED = 'the address lies inside a network, which this webhook may not post to';

/**
 * Posts a body and answers status and the beginning of the answer; throws where there is none within 10 s. Names are
 * looked up here and the address that was checked is the one connected to, so that a name cannot change in between.
 * Redirects are answers like others.
 */
export async function postJson(url: string, headers: Record<string, string>, body: string, allowInternal: boolean): Promise<PostAnswer> {
  const target = new URL(url);
  const host = target.hostname.replace(/^\[|\]$/g, '');
  if (isIP(host) && !mayPostTo(host, allowInternal)) throw new Error(REFUSED);
  const guarded: LookupFunction = (name, options, answer) => {
    lookup(name, { ...options, all: true }, (error, found) => {
      if (error) return answer(error, '');
      const allowed = found.filter(({ address }) => mayPostTo(address, allowInternal));
      const [first] = allowed;
      if (!first) return answer(new Error(REFUSED), '');
      if (options.all) answer(null, allowed);
      else answer(null, first.address, first.family);
    });
  };
  return new Promise((resolve, reject) => {
    const send = target.protocol === 'https:' ? https.request : http.request;
    const request = send(target, { method: 'POST', headers: { ...headers, 'content-length': Buffer.byteLength(body) }, lookup: guarded, agent: false }, (response) => {
      // The database keeps no U+0000 in a text.
      let text = '';
      const finish = () => { clearTimeout(patience); request.destroy(); resolve({ status: response.statusCode ?? 0, excerpt: text.slice(0, EXCERPT).replaceAll('\u0000', '\ufffd') }); };
      response.setEncoding('utf8').on('data', (chunk: string) => { text += chunk; if (text.length > EXCERPT) finish(); }).on('end', finish).on('error', finish);
    });
    const patience = setTimeout(() => request.destroy(new Error(`no answer within ${PATIENCE_MS / 1000} s`)), PATIENCE_MS);
    request.on('error', (error) => { clearTimeout(patience); reject(error); });
    request.end(body);
  });
}
