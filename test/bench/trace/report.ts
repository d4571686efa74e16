import type { JudgedWindow, Scored, Width } from './score.js';

const percent = (share: number): string => `${(100 * share).toFixed(1).padStart(5)} %`;
const shareOf = <T>(of: readonly T[], fits: (one: T) => boolean): number => (of.length === 0 ? Number.NaN : of.filter(fits).length / of.length);
export const quantile = (values: readonly number[], share: number): number => [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))] ?? Number.NaN;

const within = (rank: number | null, first: number): boolean => rank !== null && rank <= first;
const allInside = ({ upstream }: Scored): boolean => upstream.every(({ inside }) => inside);

export type Aim = { readonly name: string; readonly value: number; readonly aim: number; readonly atLeast: boolean; readonly detail: string };

/** The figures that are aimed at. Half widths are those of a 95 % interval of a share (normal approximation). */
export function aims(scored: readonly Scored[]): Aim[] {
  const share = (name: string, value: number, aim: number, n: number): Aim => ({ name, value, aim, atLeast: true, detail: `${n} plants, give or take ${(196 * Math.sqrt((value * (1 - value)) / n)).toFixed(1)} points` });
  const narrower = (name: string, of: readonly Width[]): Aim => {
    const ratios = of.map(({ byCounts, byTransit }) => byCounts / byTransit);
    return { name: `${name}: window of one can by counts to by transit times only, median`, value: quantile(ratios, 0.5), aim: 1 / 3, atLeast: false, detail: `${ratios.length} windows; quartiles ${quantile(ratios, 0.25).toFixed(2)} and ${quantile(ratios, 0.75).toFixed(2)}` };
  };
  return [
    share('true origin ranked first', shareOf(scored, ({ rank }) => within(rank.right, 1)), 0.85, scored.length),
    share('true origin among the first three', shareOf(scored, ({ rank }) => within(rank.right, 3)), 0.95, scored.length),
    share('true window inside the stated one at every upstream step', shareOf(scored, allInside), 0.95, scored.length),
    narrower('step of the true origin', known(scored, ({ atOrigin }) => atOrigin)),
    narrower('each stretch between two counted steps', scored.flatMap(({ stretches }) => stretches)),
    narrower('body makers', known(scored, ({ atBodyMaker }) => atBodyMaker)),
  ];
}

const known = (scored: readonly Scored[], of: (one: Scored) => Width | null): Width[] => scored.flatMap((one) => of(one) ?? []);

export const isMet = ({ value, aim, atLeast }: Aim): boolean => (atLeast ? value >= aim : value <= aim);

/** Everything else, in lines of text. */
export function breakdown(scored: readonly Scored[]): string[] {
  const shown = (title: string, groups: ReadonlyMap<string, readonly Scored[]>) => [
    '', `${title.padEnd(58)} plants   first   first 3  machine  pattern  windows`,
    ...[...groups].map(([name, of]) => `${name.padEnd(58)} ${String(of.length).padStart(6)} ${percent(shareOf(of, ({ rank }) => within(rank.right, 1)))} ${percent(shareOf(of, ({ rank }) => within(rank.right, 3)))}  ${percent(shareOf(of, ({ rank }) => within(rank.machine, 1)))}  ${percent(shareOf(of, ({ rank }) => within(rank.strict, 1)))}  ${percent(shareOf(of, allInside))}`),
  ];
  const windows = scored.flatMap(({ upstream }) => upstream);
  const steps = (title: string, of: readonly JudgedWindow[], by: (window: JudgedWindow) => string) => ['', `${title.padEnd(40)} steps   true window inside`, ...[...groupsOf(of, (one) => [by(one)])].map(([name, group]) => `${name.padEnd(40)} ${String(group.length).padStart(5)}   ${percent(shareOf(group, ({ inside }) => inside))}`)];
  return [
    ...shown('all', new Map([['all plants', scored]])),
    ...shown('by fault', groupsOf(scored, ({ truth }) => [truth.fault.kind.name])),
    ...shown('by size, in standard deviations from can to can', groupsOf(scored, ({ truth }) => [`${Math.floor(Math.abs(truth.fault.size))} to ${Math.floor(Math.abs(truth.fault.size)) + 1}`])),
    ...shown('by what the customer named', groupsOf(scored, ({ truth }) => [truth.named])),
    ...shown('by counters', groupsOf(scored, ({ truth }) => [truth.counting])),
    ...shown('by what the plant does not keep to', groupsOf(scored, ({ truth }) => (truth.beyond.length === 0 ? ['keeps to all that is stated'] : truth.beyond))),
    ...steps('by basis of the window', windows, ({ basis }) => basis), ...steps('by step', windows, ({ stepKind }) => stepKind),
    ...steps('slitter, stacks wait there for hours', scored.flatMap(({ slitter }) => slitter ?? []), ({ basis }) => basis),
    '', `${'one can, clocks right, where both steps count'.padEnd(40)} windows  inside by counts   by transit   seconds by counts   by transit (medians)   told by counts`,
    ...([['step of the true origin', known(scored, ({ atOrigin }) => atOrigin)], ['body makers', known(scored, ({ atBodyMaker }) => atBodyMaker)], ...groupsOf(scored.flatMap(({ stretches }) => stretches), ({ stepKind }) => [`stretch behind the ${stepKind}`])] as const).map(([name, of]) => widths(name, of)),
    `one trace in milliseconds: median ${quantile(scored.map(({ milliseconds }) => milliseconds), 0.5).toFixed(0)}, 95 % below ${quantile(scored.map(({ milliseconds }) => milliseconds), 0.95).toFixed(0)}`,
  ];
}

function widths(name: string, of: readonly Width[]): string {
  const seconds = (by: (one: Width) => number) => (quantile(of.map(by), 0.5) / 1000).toFixed(0).padStart(8);
  return `${name.padEnd(40)} ${String(of.length).padStart(7)}  ${percent(shareOf(of, ({ countsInside }) => countsInside)).padStart(16)} ${percent(shareOf(of, ({ transitInside }) => transitInside)).padStart(12)}  ${seconds(({ byCounts }) => byCounts).padStart(18)} ${seconds(({ byTransit }) => byTransit).padStart(12)}             ${percent(shareOf(of, ({ basis }) => basis === 'counts'))}`;
}

function groupsOf<T>(of: readonly T[], namesOf: (one: T) => readonly string[]): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const one of of) for (const name of namesOf(one)) groups.set(name, [...(groups.get(name) ?? []), one]);
  return new Map([...groups].sort(([a], [b]) => (a < b ? -1 : 1)));
}

export function misses(scored: readonly Scored[]): string[] {
  return scored.filter(({ rank }) => !within(rank.right, 1)).map(({ seed, truth, rank, said }) => `plant ${seed}: ${truth.fault.kind.name}, ${truth.fault.size.toFixed(1)} (machine ${truth.machineId} unit ${truth.unitId} half ${truth.laneId} lot ${truth.lotEventIds.join('/')}), at place ${rank.right ?? 'none'}; first: ${said}; named ${truth.named}; ${truth.beyond.join('; ')}`);
}
