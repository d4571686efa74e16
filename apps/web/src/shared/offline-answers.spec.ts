import 'fake-indexeddb/auto';
import { beforeEach, expect, it } from 'vitest';
import { z } from 'zod';
import { OfflineError, ProblemError } from './http.js';
import { forgetAnswers, keepAnswer, keptAnswer, orKept } from './offline-answers.js';

const shape = z.object({ machines: z.array(z.string()) });
const away = async () => { throw new OfflineError(); };
beforeEach(forgetAnswers);

it('answers what the server said last while it is not reached', async () => {
  await orKept('plant', shape, async () => ({ machines: ['M1'] }));
  await orKept('plant', shape, async () => ({ machines: ['M1', 'M2'] }));
  expect(await orKept('plant', shape, away)).toEqual({ machines: ['M1', 'M2'] });
});
it('says that the server was not reached where nothing is kept, or what is kept has another shape', async () => {
  await expect(orKept('plant', shape, away)).rejects.toBeInstanceOf(OfflineError);
  await keepAnswer('plant', { lines: 3 });
  await expect(orKept('plant', shape, away)).rejects.toBeInstanceOf(OfflineError);
});
it('never covers a refusal by what was kept', async () => {
  await keepAnswer('plant', { machines: ['M1'] });
  const refusal = new ProblemError({ type: 'about:blank', title: 'no', status: 403, code: 'not-allowed' });
  await expect(orKept('plant', shape, async () => { throw refusal; })).rejects.toBe(refusal);
});
it('forgets everything at once', async () => {
  await keepAnswer('plant', { machines: ['M1'] });
  await forgetAnswers();
  expect(await keptAnswer('plant', shape)).toBeNull();
});
