/** Cells of the entry grid in reading order: one row a can, one column a characteristic and position. */
export type GridShape = { rows: number; columns: number };
export type Caret = { atStart: boolean; atEnd: boolean };

/**
 * Where a key leads from a cell; null leaves the key to the browser, "after" is past the last cell.
 * Left and right move only when the caret is at that end of the text, so that typing can be corrected.
 */
export function moveInGrid(key: string, cell: { row: number; column: number }, { rows, columns }: GridShape, caret: Caret, backwards = false): { row: number; column: number } | 'after' | null {
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
    default: return null;
  }
}
