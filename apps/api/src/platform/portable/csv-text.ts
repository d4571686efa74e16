/** One row of CSV (RFC 4180). NULL is an empty field, the empty text a quoted one, as PostgreSQL's own CSV has it. */
export function csvRow(fields: readonly (string | null)[]): string {
  return `${fields.map((field) => (field === null ? '' : field === '' || /[",\r\n]/.test(field) ? `"${field.replaceAll('"', '""')}"` : field)).join(',')}\r\n`;
}

type Place = 'start' | 'bare' | 'quoted' | 'after-quote';

/** Reads what `csvRow` writes, in pieces that may end anywhere; tells NULL from the empty text. */
export class CsvReader {
  private place: Place = 'start';
  private field = '';
  private isQuoted = false;
  private row: (string | null)[] = [];
  private line = 1;

  /** The rows that this piece completes. */
  read(piece: string): (string | null)[][] {
    const rows: (string | null)[][] = [];
    for (let at = 0; at < piece.length; at += 1) {
      const character = piece[at] as string;
      if (this.place === 'quoted') at = this.inQuotes(piece, at);
      else if (character === ',') this.endField();
      else if (character === '\n') { this.endField(); rows.push(this.row); this.row = []; this.line += 1; }
      else if (character === '"') this.quote();
      else if (character !== '\r') this.bare(character);
    }
    return rows;
  }

  /** Refuses a file that ends inside a row. */
  end(): void {
    if (this.place !== 'start' || this.row.length > 0) throw new RangeError(`row ${this.line}: needs an end of line, the file ends inside the row`);
  }

  /** From `at` to the next quotation mark in one step: most text is long and without one. */
  private inQuotes(piece: string, at: number): number {
    const end = piece.indexOf('"', at);
    const stop = end === -1 ? piece.length : end;
    this.field += piece.slice(at, stop);
    if (end !== -1) this.place = 'after-quote';
    return stop;
  }

  private quote(): void {
    if (this.place === 'bare') throw new RangeError(`row ${this.line}: needs quotation marks around a whole field, one stands inside "${this.field.slice(0, 40)}"`);
    if (this.place === 'after-quote') this.field += '"';
    this.isQuoted = true;
    this.place = 'quoted';
  }

  private bare(character: string): void {
    if (this.place === 'after-quote') throw new RangeError(`row ${this.line}: needs a comma or an end of line after a quoted field`);
    this.place = 'bare';
    this.field += character;
  }

  private endField(): void {
    this.row.push(this.field === '' && !this.isQuoted ? null : this.field);
    [this.field, this.isQuoted, this.place] = ['', false, 'start'];
  }
}
