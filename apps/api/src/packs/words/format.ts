import type { PackLanguage } from '#contract/packs';
import { de } from './de.js';
import { en, type PackWords } from './en.js';

const languages: Record<PackLanguage, PackWords> = { en, de };
export type PackFormat = { words: PackWords; number(value: number | null | undefined, decimals: number): string; figure(value: number): string; moment(iso: string | null): string };

/** Numbers and moments as the documents show them; the same on every machine, so not by the machine's own locale. */
export function packFormat(language: PackLanguage, timeZone: string): PackFormat {
  const words = languages[language];
  const point = (text: string) => text.replace('-', '−').replace('.', words.decimal);
  const clock = new Intl.DateTimeFormat('en-GB', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });
  return {
    words,
    number: (value, decimals) => (value === null || value === undefined ? '–' : point(value.toFixed(decimals))),
    // Seven digits: enough to compare with a published example.
    figure: (value) => point(Number.isInteger(value) ? String(value) : String(Number(value.toPrecision(7)))),
    moment: (iso) => {
      if (iso === null) return '–';
      const parts = new Map(clock.formatToParts(new Date(iso)).map(({ type, value }) => [type, value]));
      return `${parts.get('year')}-${parts.get('month')}-${parts.get('day')} ${parts.get('hour')}:${parts.get('minute')}`;
    },
  };
}
