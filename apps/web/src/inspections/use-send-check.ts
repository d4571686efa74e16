import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { type CheckVerdict, type NewCheck, recordCheck } from '#contract/inspections';
import { call, ProblemError } from '../shared/http.js';
import { usePerson } from '../shared/session.js';
import { type CellQuestion, cellQuestions } from './entry-check.js';
import type { EntryDraft, Sheet } from './entry-draft.js';
import { listPhotosOf } from './photo-store.js';
import { basisOf } from './queue-basis.js';
import { forgetJudged } from './queue.queries.js';
import { runPhotos, runQueue } from './queue-runner.js';
import { enqueue, findQueued, removeQueued } from './queue-store.js';
import { sendStraight } from './send-straight.js';

/** What came of sending: stored with its verdict, kept in the queue of this browser, or back for an answer. */
export type Sent = { is: 'stored'; verdict: CheckVerdict } | { is: 'kept'; key: string } | { is: 'asked'; questions: CellQuestion[] } | { is: 'refused'; error: unknown };

/** Puts the check into the queue before anything is sent, so that from then on nothing can lose it; then sends at once. */
export function useSendCheck() {
  const client = useQueryClient();
  const person = usePerson();
  const [busy, setBusy] = useState(false);
  const sendPhotosOf = async (key: string) => { if ((await listPhotosOf(key)).length > 0 && (await runPhotos(person.id)) === 'done') await client.invalidateQueries({ queryKey: ['checks'] }); };
  const through = async (sheet: Sheet, draft: EntryDraft, check: NewCheck): Promise<Sent> => {
    const named = ({ code, name }: { code: string; name: string }) => `${code} ${name}`;
    try {
      await enqueue({ key: check.key, personId: person.id, personName: person.name, addedAt: new Date().toISOString(), label: { machine: named(sheet.machine), product: named(sheet.product), plan: sheet.plan.name }, check, draft, basis: basisOf(sheet) });
    } catch {
      return straight(check); // No database in this browser, or no room in it: the entry stays in the form until the server has it.
    }
    // Whatever stops the run, the check is in the queue by now, and the run is tried again.
    await runQueue(person.id).catch(() => undefined);
    void sendPhotosOf(check.key).catch(() => undefined);
    const item = await findQueued(check.key).catch(() => null);
    if (item?.state === 'stored' && item.verdict) {
      await removeQueued(item.place);
      return { is: 'stored', verdict: item.verdict };
    }
    if (item?.state !== 'needs-you' || item.conflict?.kind !== 'refused') return { is: 'kept', key: check.key };
    // The person is still there: the form asks. It keeps the entry.
    await removeQueued(item.place);
    return refusal(check, new ProblemError(item.conflict.problem));
  };
  const straight = async (check: NewCheck): Promise<Sent> => {
    try {
      const verdict = await sendStraight(check, (body) => call(recordCheck, { body }));
      void sendPhotosOf(check.key).catch(() => undefined);
      return { is: 'stored', verdict };
    } catch (error) {
      return refusal(check, error);
    }
  };
  const send = async (sheet: Sheet, draft: EntryDraft, check: NewCheck): Promise<Sent> => {
    setBusy(true);
    try {
      return await through(sheet, draft, check);
    } finally {
      setBusy(false);
      void forgetJudged(client);
    }
  };
  return { busy, send };
}

function refusal(check: NewCheck, error: unknown): Sent {
  const questions = error instanceof ProblemError && error.problem.code === 'implausible-reading' ? cellQuestions(check, error.problem.errors ?? []) : [];
  return questions.length > 0 ? { is: 'asked', questions } : { is: 'refused', error };
}
