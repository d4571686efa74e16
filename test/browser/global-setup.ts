import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext { seeded: string }
}

/** A folder for the data of a freshly seeded demo plant, which the specs copy instead of seeding each their own. */
export default function setup({ provide }: TestProject): () => void {
  const folder = mkdtempSync(path.join(tmpdir(), 'seamledger-seeded-'));
  provide('seeded', folder);
  return () => rmSync(folder, { recursive: true, force: true });
}
