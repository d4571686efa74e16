import type { ReviewEntry } from '#contract/records';

type Entry = Pick<ReviewEntry, 'checkId' | 'outsideSpecification' | 'signals'>;

/** Such a check is opened first, not signed along with the rest. */
export const standsOut = ({ outsideSpecification, signals }: Omit<Entry, 'checkId'>): boolean => outsideSpecification > 0 || signals.length > 0;

/** The checks that are not signed now: what a person said of a check counts for that check only, and what stands out is left where nothing was said. */
export const leftChecks = (entries: readonly Entry[], choices: ReadonlyMap<number, boolean>): ReadonlySet<number> => new Set(entries.filter((entry) => !(choices.get(entry.checkId) ?? !standsOut(entry))).map(({ checkId }) => checkId));
