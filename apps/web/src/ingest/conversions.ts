import type { Mapping } from '#contract/ingest';

/** A conversion as it is being typed: three texts, complete or not. */
export type ConversionDraft = { id: number; from: string; to: string; factor: string };

/** A factor with decimal point or comma; null while it is no number above zero. */
export function factorOf(text: string): number | null {
  if (!/^\s*\d*[.,]?\d+\s*$/.test(text)) return null;
  const value = Number(text.trim().replace(',', '.'));
  return Number.isFinite(value) && value > 0 && value <= 1e9 ? value : null;
}

/** The conversions that are complete; a row that is not yet so changes nothing. */
export function conversionsOf(drafts: readonly ConversionDraft[]): Mapping['conversions'] {
  return drafts.flatMap(({ from, to, factor }) => {
    const number = factorOf(factor);
    return from.trim() === '' || to.trim() === '' || number === null ? [] : [{ from: from.trim(), to: to.trim(), factor: number }];
  });
}

export const draftsOf = (conversions: Mapping['conversions']): ConversionDraft[] => conversions.map(({ from, to, factor }, id) => ({ id, from, to, factor: String(factor) }));
