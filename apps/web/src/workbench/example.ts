/** Our own invention: hook lengths of 30 checks of five cans each, in mm, with one missing reading and a shift near the end. */
export function exampleText(): string {
  const rows = Array.from({ length: 30 }, (_none, check) => {
    const shift = check >= 22 ? 0.035 : 0;
    const cans = Array.from({ length: 5 }, (_can, can) => (check === 11 && can === 2 ? '' : (1.95 + shift + 0.03 * wave(check * 5 + can)).toFixed(3)));
    return [`K${check + 1}`, ...cans].join('\t');
  });
  return ['check\tcan 1\tcan 2\tcan 3\tcan 4\tcan 5', ...rows].join('\n');
}

/** Scattered like a sum of three dice around 0, always the same. */
function wave(index: number): number {
  return [7919, 104_729, 1_299_709].reduce((sum, prime) => sum + (((index + 17) * prime) % 1009) / 1009 - 0.5, 0);
}
