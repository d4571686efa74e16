import { expect, it } from 'vitest';
import { mayDropOlder, shellAnswer } from './shell-request.js';

const origin = 'http://127.0.0.1:4310';
const files = new Set(['/assets/main-1.js', '/seam.svg']);
const ask = (path: string, more: Partial<{ method: string; mode: string; origin: string }> = {}) => shellAnswer({ method: more.method ?? 'GET', mode: more.mode ?? 'cors', url: (more.origin ?? origin) + path }, origin, files);

it('answers every screen by the page of the build, and its files', () => {
  for (const path of ['/', '/log?machine=3', '/checks/12', '/apis']) expect(ask(path, { mode: 'navigate' }), path).toBe('page');
  for (const path of ['/assets/main-1.js', '/seam.svg', '/seam.svg?v=2']) expect(ask(path), path).toBe('file');
});
it('leaves the API alone, whatever is asked of it and however', () => {
  for (const path of ['/api', '/api/checks', '/api/plant?x=1', '/api/docs']) {
    for (const method of ['GET', 'POST', 'PUT', 'DELETE']) for (const mode of ['cors', 'same-origin', 'navigate']) expect(ask(path, { method, mode }), `${method} ${path} ${mode}`).toBeNull();
  }
});
it('leaves the measures of the server to the server, also where a person opens them', () => {
  expect(ask('/metrics', { mode: 'navigate' })).toBeNull();
});
it('leaves other builds, other places and changes to the network', () => {
  expect(ask('/other/main-2.js')).toBeNull();
  expect(ask('/assets/main-1.js', { origin: 'http://127.0.0.1:9999' })).toBeNull();
  expect(ask('/log', { method: 'POST', mode: 'navigate' })).toBeNull();
});
it('looks for parts of older builds among what is kept of them, and keeps it while a window may be of one', () => {
  expect(ask('/assets/main-2.js')).toBe('older');
  expect(mayDropOlder(['a', 'b'], new Set(['a']))).toBe(false);
  expect(mayDropOlder(['a', 'b'], new Set(['b', 'a', 'closed']))).toBe(true);
  expect(mayDropOlder([], new Set())).toBe(true);
});
