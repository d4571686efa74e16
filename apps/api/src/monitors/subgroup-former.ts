import type { BodyReading } from './minute-book.js';

/** Members of one group that come further apart than this are of two: the counter began anew, or the machine stood. */
const LONGEST_GROUP_MS = 600_000;

export type Formed = { streamId: number; at: number; readings: (number | null)[] };
type Group = { streamId: number; number: number; readings: (number | null)[]; at: number[]; n: number };
export type Grouping = { size: number; every: number; byCount: boolean };

/**
 * Puts bodies of one stream together to rational subgroups: `size` in a row, beginning with every `every`-th body of the
 * counter, or without a counter the first `size` of every `every` seconds. Which body belongs to which group depends on
 * the bodies alone, not on the order in which they come, nor on when the program was started.
 */
export class SubgroupFormer {
  private readonly groups = new Map<number, Group>();
  private readonly done = new Set<number>();
  private newest = Number.NEGATIVE_INFINITY;

  constructor(private readonly streamId: number, private readonly grouping: Grouping) {}

  /** The first body of the group that this one is a member of; null where it is of none. */
  groupStart(count: number): number | null {
    const start = Math.floor(count / this.grouping.every) * this.grouping.every;
    return count - start < this.grouping.size ? start : null;
  }

  isForming({ at, count }: BodyReading): boolean {
    const { every, byCount } = this.grouping;
    return this.groups.has(byCount ? Math.floor((count ?? Number.NaN) / every) : Math.floor(at / (every * 1000)));
  }

  /** Answers the subgroups that this body completes, or that it shows will never be complete. */
  add({ at, count, value }: BodyReading): Formed[] {
    const { size, every, byCount } = this.grouping;
    if (byCount && count === null) return [];
    const number = byCount ? Math.floor((count as number) / every) : Math.floor(at / (every * 1000));
    const formed: Formed[] = [];
    this.newest = Math.max(this.newest, at);
    let group = this.groups.get(number);
    const place = byCount ? (count as number) - number * every : group?.n ?? 0;
    if (place >= size || (!byCount && this.done.has(number))) return formed;
    if (group && byCount && Math.abs(at - (group.at[0] as number)) > LONGEST_GROUP_MS) {
      formed.push(this.close(group));
      group = undefined;
    }
    if (!group) {
      group = { streamId: this.streamId, number, readings: new Array<number | null>(size).fill(null), at: [], n: 0 };
      this.groups.set(number, group);
    }
    if (group.readings[place] !== null) return formed;
    group.readings[place] = value;
    group.at.push(at);
    group.n += 1;
    if (group.n === size) formed.push(this.close(group));
    return formed;
  }

  /** Groups that will not be completed any more: the stream has gone on, and their last body is older than `before` (epoch ms). */
  overdue(before: number): Formed[] {
    const late = [...this.groups.values()].filter(({ at }) => Math.max(...at) < before && (Math.max(...at) < this.newest || Math.max(...at) < before - LONGEST_GROUP_MS));
    for (const number of this.done) if (this.done.size > 100) this.done.delete(number);
    return late.map((group) => this.close(group));
  }

  /** Members of groups that are still waiting for more. */
  members(): BodyReading[] {
    return [...this.groups.values()].flatMap(({ number, readings, at }) => readings.flatMap((value, place) => (value === null ? [] : [{ streamId: this.streamId, at: at[0] as number, count: this.grouping.byCount ? number * this.grouping.every + place : null, value }])));
  }

  private close(group: Group): Formed {
    this.groups.delete(group.number);
    if (!this.grouping.byCount) this.done.add(group.number);
    return { streamId: this.streamId, at: Math.max(...group.at), readings: group.readings };
  }
}
