export type BenchRow = { name: string; ratio: number; aim: number; detail: string };

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] as number;
};

/** Times two ways alternately, so that a busy minute of the machine falls on both; milliseconds. The first turns warm up and are not counted. */
export async function interleaved(turns: number, warmUp: number, baseline: (turn: number) => Promise<void>, measured: (turn: number) => Promise<void>): Promise<{ base: number; cost: number }> {
  const base: number[] = [];
  const cost: number[] = [];
  for (let turn = 0; turn < turns + warmUp; turn += 1) {
    const began = performance.now();
    await baseline(turn);
    const between = performance.now();
    await measured(turn);
    if (turn >= warmUp) { base.push(between - began); cost.push(performance.now() - between); }
  }
  return { base: median(base), cost: median(cost) };
}
