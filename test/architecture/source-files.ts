import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';

export const root = path.resolve(import.meta.dirname, '../..');
const NOT_OURS = new Set(['node_modules', 'dist', 'generated', 'output', '.data']);

export type SourceFile = { file: string; text: string };

/** Every file of these folders whose name fits, with its path from the project root. New folders are found without an edit. */
export function sourceFiles(folders: readonly string[], fits: RegExp): SourceFile[] {
  const files = folders.flatMap((folder) => walk(path.join(root, folder))).filter((file) => fits.test(file)).sort();
  return files.map((file) => ({ file: path.relative(root, file).replaceAll(path.sep, '/'), text: readFileSync(file, 'utf8') }));
}

function walk(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    if (NOT_OURS.has(entry.name)) return [];
    const full = path.join(folder, entry.name);
    return entry.isDirectory() ? walk(full) : [full];
  });
}
