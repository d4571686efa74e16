/** Cells of the entry grid in reading order: one row a can, one column a characteristic and position. */
export type GridShape = { rows: number; columns: number };
export type Caret = { atStart: boolean; atEnd: boolean; empty: boolean };
export type GridCell = { row: number; column: number };

/**
 * Where a key leads from a cell; null leaves the key to the browser, "after" is past the last cell.
 * Left and right move only when the caret is at that end of the text, so that typing can be corrected;
 * Backspace in an empty cell goes back to the one before.
 */
export function moveInGrid(key: string, cell: GridCell, { rows, columns }: GridShape, caret: Caret, backwards = false): GridCell | 'after' | null {
  const along = (steps: number) => {
    const place = cell.row * columns + cell.column + steps;
    if (place < 0) return null;
    return place >= rows * columns ? 'after' as const : { row: Math.floor(place / columns), column: place % columns };
  };
  const down = (steps: number) => (cell.row + steps < 0 || cell.row + steps >= rows ? null : { row: cell.row + steps, column: cell.column });
  switch (key) {
    case 'Enter': return along(backwards ? -1 : 1);
    case 'ArrowDown': return down(1);
    case 'ArrowUp': return down(-1);
    case 'ArrowRight': { const next = caret.atEnd ? along(1) : null; return next === 'after' ? null : next; }
    case 'ArrowLeft': return caret.atStart ? along(-1) : null;
    case 'Backspace': return caret.empty ? along(-1) : null;
    default: return null;
  }
}

/** The cell that comes after this one and is not left out; "after" past the last. */
export function nextOpen(cell: GridCell, { rows, columns }: GridShape, leftOut: (cell: GridCell) => boolean): GridCell | 'after' {
  for (let place = cell.row * columns + cell.column + 1; place < rows * columns; place += 1) {
    const next = { row: Math.floor(place / columns), column: place % columns };
    if (!leftOut(next)) return next;
  }
  return 'after';
}

/** Keys closer together than a hand can type come from a gauge, which ends its number itself. */
export const BURST_MS = 30;
