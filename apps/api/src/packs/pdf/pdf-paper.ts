import { createRequire } from 'node:module';
import PDFDocument from 'pdfkit';

const fonts = createRequire(import.meta.url);
const FONT = { plain: fonts.resolve('dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf'), bold: fonts.resolve('dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf') };
const MARGIN = 48;
export type Column = { title: string; width: number; right?: boolean };
export type Draw = (doc: PDFKit.PDFDocument, box: { x: number; y: number; width: number; height: number }) => void;

/** Tagged A4 pages that grow downwards: headings with bookmarks, paragraphs, tables, figures with a text for those who cannot see them. */
export class PdfPaper {
  readonly doc: PDFKit.PDFDocument;
  private readonly chunks: Buffer[] = [];
  private readonly root: ReturnType<PDFKit.PDFDocument['struct']>;
  private readonly width: number;

  constructor({ title, lang, at, author, subject }: { title: string; lang: string; at: Date; author: string; subject: string }) {
    this.doc = new PDFDocument({
      size: 'A4', margins: { top: MARGIN, bottom: MARGIN, left: MARGIN, right: MARGIN }, bufferPages: true, autoFirstPage: true, pdfVersion: '1.7', tagged: true, lang, displayTitle: true,
      // Every date of the file is that of the pack, so that the same pack gives the same bytes.
      info: { Title: title, Author: author, Subject: subject, Creator: 'Seamledger', Producer: 'Seamledger', CreationDate: at, ModDate: at },
    });
    this.doc.on('data', (chunk: Buffer) => this.chunks.push(chunk));
    this.doc.registerFont('plain', FONT.plain).registerFont('bold', FONT.bold);
    this.root = this.doc.struct('Document');
    this.doc.addStructure(this.root);
    this.width = this.doc.page.width - 2 * MARGIN;
  }

  private get bottom(): number {
    return this.doc.page.height - MARGIN - 14;
  }

  /** A new page unless so many points are left. */
  need(height: number): void {
    if (this.doc.y + height > this.bottom) this.doc.addPage();
  }

  private tag(kind: string, draw: () => void, parent = this.root): void {
    parent.add(this.doc.struct(kind, {}, draw));
  }

  private section: PDFKit.PDFOutline | undefined;
  heading(level: 1 | 2 | 3, text: string): void {
    const size = { 1: 15, 2: 11.5, 3: 9.5 }[level];
    // A heading stays with the first lines of what it heads.
    this.need(level === 3 ? 90 : 140);
    if (level !== 1 || this.doc.y > MARGIN + 1) this.doc.y += level === 1 ? 14 : 8;
    if (level === 1) this.section = this.doc.outline.addItem(text);
    else if (level === 2) this.section?.addItem(text);
    this.tag(`H${level}`, () => { this.doc.font('bold').fontSize(size).fillColor('black').text(text, MARGIN, this.doc.y, { width: this.width }); });
    this.doc.y += 3;
  }

  paragraph(text: string, { size = 9, bold = false }: { size?: number; bold?: boolean } = {}): void {
    this.doc.font(bold ? 'bold' : 'plain').fontSize(size);
    this.need(Math.min(200, this.doc.heightOfString(text, { width: this.width })));
    this.tag('P', () => { this.doc.font(bold ? 'bold' : 'plain').fontSize(size).fillColor('black').text(text, MARGIN, this.doc.y, { width: this.width }); });
    this.doc.y += 4;
  }

  /** Widths are shares. The head stands again on each page. */
  table(columns: readonly Column[], rows: readonly (readonly string[])[]): void {
    const total = columns.reduce((sum, column) => sum + column.width, 0);
    const widths = columns.map((column) => (column.width / total) * this.width);
    const table = this.doc.struct('Table');
    this.root.add(table);
    const line = (cells: readonly string[], head: boolean, isRepeat = false) => {
      this.doc.font(head ? 'bold' : 'plain').fontSize(7.5);
      const height = Math.max(...cells.map((cell, index) => this.doc.heightOfString(cell || ' ', { width: (widths[index] as number) - 6 }))) + 4;
      if (this.doc.y + height > this.bottom) {
        this.doc.addPage();
        if (!head) line(columns.map(({ title }) => title), true, true);
      }
      const [y, draw] = [this.doc.y, (index: number) => {
        const x = MARGIN + widths.slice(0, index).reduce((sum, width) => sum + width, 0);
        this.doc.font(head ? 'bold' : 'plain').fontSize(7.5).fillColor('black').text(cells[index] ?? '', x + 3, y + 2, { width: (widths[index] as number) - 6, align: columns[index]?.right ? 'right' : 'left' });
      }];
      if (isRepeat) {
        this.artifact(() => { for (const index of cells.keys()) draw(index); });
      } else {
        const row = this.doc.struct('TR');
        table.add(row);
        for (const index of cells.keys()) this.tag(head ? 'TH' : 'TD', () => draw(index), row);
      }
      this.artifact(() => { this.doc.lineWidth(head ? 0.8 : 0.25).moveTo(MARGIN, y + height).lineTo(MARGIN + this.width, y + height).strokeColor('black').stroke(); });
      this.doc.y = y + height;
    };
    this.doc.font('bold').fontSize(7.5);
    this.need(40);
    line(columns.map(({ title }) => title), true);
    for (const row of rows) line(row, false);
    table.end();
    this.doc.y += 8;
  }

  figure(alt: string, height: number, draw: Draw): void {
    this.need(height + 8);
    const y = this.doc.y;
    this.root.add(this.doc.struct('Figure', { alt }, () => {
      this.doc.save();
      draw(this.doc, { x: MARGIN, y, width: this.width, height });
      this.doc.restore();
    }));
    this.doc.x = MARGIN;
    this.doc.y = y + height + 8;
  }

  private artifact(draw: () => void): void {
    this.doc.markContent('Artifact', { type: 'Layout' });
    draw();
    this.doc.endMarkedContent();
  }

  /** Writes the line at the foot of each page and ends the file. */
  async end(foot: (page: number, pages: number) => readonly [string, string]): Promise<Buffer> {
    this.root.end();
    const { start, count } = this.doc.bufferedPageRange();
    for (let page = 0; page < count; page += 1) {
      this.doc.switchToPage(start + page);
      const [left, right] = foot(page + 1, count);
      const y = this.doc.page.height - MARGIN - 2;
      // Text below the margin would open a page of its own.
      this.doc.page.margins.bottom = 0;
      this.doc.markContent('Artifact', { type: 'Pagination' });
      this.doc.font('plain').fontSize(7).fillColor('black').text(left, MARGIN, y, { width: this.width * 0.8, lineBreak: false }).text(right, MARGIN, y, { width: this.width, align: 'right', lineBreak: false });
      this.doc.endMarkedContent();
      this.doc.page.margins.bottom = MARGIN;
    }
    const ended = new Promise<void>((resolve, reject) => { this.doc.on('end', () => resolve()); this.doc.on('error', reject); });
    this.doc.end();
    await ended;
    return Buffer.concat(this.chunks);
  }
}
