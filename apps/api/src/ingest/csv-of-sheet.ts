type Cell = string | number | boolean | Date | null;

const DAY_MS = 86_400_000;
/** Before this day only the clock of a cell has a meaning: a time without a date is a part of day 0. */
const FIRST_DAY = Date.UTC(1900, 0, 2);

/** Rows of a sheet as CSV: comma, decimal point, dates as year-month-day. Rows are as long as the header, so that empty cells at the end are not missed. */
export function csvOfSheet(rows: readonly (readonly Cell[])[]): string {
  const filled = rows.filter((row) => row.some((cell) => cell !== null && cell !== ''));
  const width = (filled[0] ?? []).length;
  return filled.map((row) => `${Array.from({ length: Math.max(width, row.length) }, (_, index) => quoted(textOf(row[index] ?? null))).join(',')}\n`).join('');
}

function textOf(cell: Cell): string {
  if (cell === null) return '';
  if (cell instanceof Date) return momentOf(cell);
  return typeof cell === 'number' ? numberOf(cell) : String(cell);
}

/** Fifteen digits are what a sheet keeps; 0.41002999999999995 is 0.41003 there. */
function numberOf(value: number): string {
  const rounded = Number(value.toPrecision(15));
  return /e/.test(String(rounded)) ? rounded.toFixed(Math.abs(rounded) < 1 ? 15 : 0) : String(rounded);
}

/** A sheet counts days in fractions: 08:30:02 is 08:30:01.999 there. */
function momentOf(cell: Date): string {
  const time = Math.round(cell.getTime() / 1000) * 1000;
  if (!Number.isFinite(time)) return '';
  const iso = new Date(time).toISOString();
  if (time < FIRST_DAY) return iso.slice(11, 19);
  return time % DAY_MS === 0 ? iso.slice(0, 10) : `${iso.slice(0, 10)} ${iso.slice(11, 19)}`;
}

// A line break in a cell stays inside its quotes.
const quoted = (text: string): string => (/[",\r\n]/.test(text) || /^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
