import { START, type WorkbenchState } from './choices.js';

/** Body hooks in mm of 30 checks of five cans each, our own invention: one reading is missing, and the setting shifts after check 22. */
export function exampleState(): WorkbenchState {
  return { version: 1, text: exampleText(), source: null, choices: { ...START, form: 'rows', columns: [1, 2, 3, 4, 5], naming: 0, name: 'Body hook', unit: 'mm', lsl: '1.85', target: '1.95', usl: '2.05', baseline: '20' } };
}

function exampleText(): string {
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
