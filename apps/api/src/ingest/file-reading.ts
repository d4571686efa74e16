import type { ImportCheck } from './group-checks.js';
import type { Refusal } from './placed-row.js';
import type { SortedPart } from './sort-rows.js';

/** The reading of a file while its checks are being stored: the checks in slices, and what else is known so far. */
export class FileReading {
  readonly refusals: Refusal[] = [];
  checks = 0;
  readings = 0;

  constructor(private readonly parts: AsyncGenerator<SortedPart>) {}

  /** At most so many checks at a time. `begun` hears how many checks the file seems to have before the first slice comes. */
  async *slices(size: number, begun: (expected: number) => Promise<unknown>): AsyncGenerator<ImportCheck[]> {
    // One by one, since a loop over the parts would end them when the slices are left early.
    for (let next = await this.parts.next(), first = true; !next.done; next = await this.parts.next(), first = false) {
      this.note(next.value);
      if (first) await begun(next.value.expected);
      for (let at = 0; at < next.value.checks.length; at += size) yield next.value.checks.slice(at, at + size);
    }
  }

  /** Reads on without storing, so that also of an import that was stopped on the way it is known what is refused. */
  async toTheEnd(): Promise<void> {
    for await (const part of this.parts) this.note(part);
  }

  async leave(): Promise<void> {
    await this.parts.return(undefined);
  }

  private note({ checks, readings, refusals }: SortedPart): void {
    this.checks += checks.length;
    this.readings += readings;
    for (const refusal of refusals) this.refusals.push(refusal);
  }
}
