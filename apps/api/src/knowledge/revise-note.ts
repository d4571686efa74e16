import type { InputOf } from '#contract/endpoint';
import type { reviseNote } from '#contract/knowledge';
import type { Actor } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { setNote } from './notes.store.js';

export async function reviseText(tx: Tx, actor: Actor, id: number, { revision, ...texts }: InputOf<typeof reviseNote>['body'], now: Date): Promise<void> {
  await setNote(tx, actor, id, revision, texts, now);
}
