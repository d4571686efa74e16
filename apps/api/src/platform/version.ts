import { readFileSync } from 'node:fs';
import path from 'node:path';

/** The version of package.json: start, build and tests run from the project root. */
export const version: string = (JSON.parse(readFileSync(path.join(process.cwd(), 'package.json'), 'utf8')) as { version: string }).version;
