import type { BodyReading } from './minute-book.js';

/** Members of one group that come further apart than this are of two: the counter began anew, or the machine stood. */
const LONGEST_GROUP_MS = 600_000;

/** `number`: the place of the group by the counter or by the clock. */
export type Formed = { streamId: number; number: number; at: number; readings: (number | null)[] };
export type JudgedGroup = { streamId: number; number: number; at: number };
const MOST_JUDGED = 20_000;
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
  /** Groups that were judged before all of their bodies had come, with their moments. */
  private readonly judged = new Map<number, number[]>();
  private newest = Number.NEGATIVE_INFINITY;

  constructor(private readonly streamId: number, private readonly grouping: Grouping) {}

  /** The first body of the group that this one is a member of; null where it is of none. */
  groupStart(count: number): number | null {
    const start = Math.floor(count / this.grouping.every) * this.grouping.every;
    return count - start < this.grouping.size ? start : null;
  }

  isForming(body: BodyReading): boolean {
    return this.groups.has(this.numberOf(body) ?? Number.NaN);
  }

  /** A group that was judged without all of its bodies: what comes of it later changes nothing any more. */
  markJudged({ number, at }: { number: number; at: number }): void {
    this.judged.set(number, [...(this.judged.get(number) ?? []), at]);
    for (const oldest of this.judged.keys()) {
      if (this.judged.size <= MOST_JUDGED) break;
      this.judged.delete(oldest);
    }
  }

  private numberOf({ at, count }: BodyReading): number | null {
    const { every, byCount } = this.grouping;
    if (!byCount) return Math.floor(at / (every * 1000));
    return count === null ? null : Math.floor(count / every);
  }

  private wasJudged(number: number, at: number): boolean {
    return (this.judged.get(number) ?? []).some((moment) => !this.grouping.byCount || Math.abs(moment - at) <= LONGEST_GROUP_MS);
  }

  /** Answers the subgroups that this body completes, or that it shows will never be complete. */
  add({ at, count, value }: BodyReading): Formed[] {
    const { size, every, byCount } = this.grouping;
    const number = this.numberOf({ streamId: this.streamId, at, count, value });
    if (number === null) return [];
    const formed: Formed[] = [];
    this.newest = Math.max(this.newest, at);
    let group = this.groups.get(number);
    if (!group && this.wasJudged(number, at)) return formed;
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
    return { streamId: this.streamId, number: group.number, at: Math.max(...group.at), readings: group.readings };
  }
}
