import type { z } from 'zod';
import { code, id } from './shapes.js';

/** A machine as a person's program or a gauge names it: by id, or by the code that stands in the set-up. */
export const machineIdOrCode = { machineId: id.optional(), machine: code.optional() };

/** Refuses both of id and code, and neither where one is needed. `path` ends with the name of the code; the id's name is that and "Id". */
export function needIdOrCode(context: z.core.$RefinementCtx, path: (string | number)[], byId: number | null | undefined, byCode: string | undefined, needed: boolean): void {
  const name = String(path.at(-1));
  const [hasId, hasCode] = [byId !== undefined && byId !== null, byCode !== undefined];
  if (hasId && hasCode) context.addIssue({ code: 'custom', path, message: `either the code (${name}) or the id (${name}Id), not both` });
  else if (needed && !hasId && !hasCode) context.addIssue({ code: 'custom', path: [...path.slice(0, -1), `${name}Id`], message: `the id, or the code as "${name}"` });
}
