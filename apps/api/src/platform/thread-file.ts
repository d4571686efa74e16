import { existsSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../../../', import.meta.url));

/** The program of a thread that stands beside the module which starts it. A thread cannot load TypeScript: where the tests run the sources, the built one is taken. */
export function threadFile(startedBy: string, name: string): string {
  const beside = fileURLToPath(new URL(name, startedBy));
  return existsSync(beside) ? beside : path.join(root, 'dist', path.relative(root, beside));
}
