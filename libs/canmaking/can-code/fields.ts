/** What a part of a can code may name; the words of the trade, and our own way of writing them. */
export const codeFieldNames = [
  'line', 'year', 'day-of-year', 'month', 'day', 'hour', 'minute', 'shift', 'machine', 'unit', 'lane', 'text',
] as const;
export type CodeFieldName = (typeof codeFieldNames)[number];

export function isCodeFieldName(value: string): value is CodeFieldName {
  return codeFieldNames.some((name) => name === value);
}

/** Digits of the fields that have a fixed number of them. */
export const fixedDigits: Partial<Record<CodeFieldName, number>> = { 'day-of-year': 3, month: 2, day: 2, hour: 2, minute: 2 };

/** The sizes that may follow the name after a colon; fields that are not named here take none. */
export const sizesOf: Partial<Record<CodeFieldName, { readonly least: number; readonly most: number; readonly allowed: readonly number[]; readonly words: string }>> = {
  year: { least: 1, most: 4, allowed: [1, 2, 4], words: '1, 2 or 4 digits' },
  text: { least: 1, most: 20, allowed: Array.from({ length: 20 }, (_, index) => index + 1), words: '1 to 20 characters' },
};
