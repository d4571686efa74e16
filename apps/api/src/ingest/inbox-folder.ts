import { lstat, mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';

/** Ending of the text beside a file that waits. */
export const HOW_TO = '.how.txt';
const TABLE = /\.(csv|txt|tsv|xlsx)$/i;
const MOST_BYTES = 64 * 1024 * 1024;

export type Dropped = { name: string; bytes: number; tooLarge: boolean };

/** The watched folder: what lies in it, and where files go once they were looked at. Links and hidden files are left alone. */
export class InboxFolder {
  /** Size and time of each file at the last look: a file is taken when neither has changed since. */
  private before = new Map<string, string>();

  constructor(readonly folder: string) {}

  async prepare(): Promise<void> {
    await mkdir(path.join(this.folder, 'done'), { recursive: true });
    await mkdir(path.join(this.folder, 'waiting'), { recursive: true });
  }

  /** Files that have stopped growing, by name. One that is still being written should end in .part until it is whole. */
  async settled(): Promise<Dropped[]> {
    const now = new Map<string, string>();
    const settled: Dropped[] = [];
    for (const name of (await readdir(this.folder)).sort()) {
      if (!TABLE.test(name) || name.startsWith('.')) continue;
      const found = await lstat(path.join(this.folder, name)).catch(() => null);
      if (!found?.isFile()) continue;
      const mark = `${found.size}/${found.mtimeMs}`;
      now.set(name, mark);
      if (this.before.get(name) === mark) settled.push({ name, bytes: found.size, tooLarge: found.size > MOST_BYTES });
    }
    this.before = now;
    return settled;
  }

  read(name: string): Promise<Buffer> {
    return readFile(path.join(this.folder, name));
  }

  /** What belongs to a file is written first and the file moved last: a crash between leaves the file where it is found again. */
  async put(name: string, where: 'done' | 'waiting', beside?: { ending: string; text: string }): Promise<void> {
    await this.prepare();
    const target = await this.freeName(where, name);
    if (beside) await writeFile(`${target}${beside.ending}`, beside.text);
    await rename(path.join(this.folder, name), target);
    this.before.delete(name);
    if (where === 'done') await this.forgetWait(name);
  }

  /** A file that was moved back from waiting/ and is imported now leaves no text behind that says it was not. */
  private async forgetWait(name: string): Promise<void> {
    const waiting = path.join(this.folder, 'waiting', name);
    if (await lstat(waiting).then(() => false, () => true)) await rm(`${waiting}${HOW_TO}`, { force: true });
  }

  private async freeName(where: string, name: string): Promise<string> {
    const { name: stem, ext } = path.parse(name);
    for (let again = 1; again < 10_000; again += 1) {
      const target = path.join(this.folder, where, again === 1 ? name : `${stem} (${again})${ext}`);
      if (await lstat(target).then(() => false, () => true)) return target;
    }
    throw new Error(`${where} holds too many files called ${name}`);
  }
}
