import type { ReactNode } from 'react';
import { usePerson } from './session.js';

/** What the server refuses to an auditor is not shown to one: no empty promises and no refusals on the way. */
export function NotForAuditors({ children }: { children: ReactNode }) {
  return usePerson().role === 'auditor' ? null : children;
}
