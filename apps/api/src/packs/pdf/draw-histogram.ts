import type { PackEntry, PackRevision } from '../pack-content.js';
import type { PackFormat } from '../words/format.js';
import type { Draw } from './pdf-paper.js';

/** Grey bars with a black edge, the overall normal curve, and the specification as thick dashed lines with their words. */
export function drawHistogram(histogram: NonNullable<PackEntry['histogram']>, used: PackRevision | null, decimals: number, { words, number }: PackFormat): Draw {
  return (doc, { x, y, width, height }) => {
    const marks = ([['lsl', used?.lsl], ['target', used?.target], ['usl', used?.usl]] as const).flatMap(([name, value]) => (value === null || value === undefined ? [] : [{ name, value }]));
    const { edges, counts, curves: { overall } } = histogram;
    const all = [edges[0] as number, edges.at(-1) as number, ...marks.map(({ value }) => value)];
    const [low, high] = [Math.min(...all), Math.max(...all)];
    const pad = (high - low || 1) * 0.03;
    const across = (value: number) => x + ((value - low + pad) / (high - low + 2 * pad)) * width;
    const [top, base] = [y + 12, y + height - 12];
    const most = Math.max(1, ...counts, ...(overall?.count ?? []));
    const up = (count: number) => base - (count / most) * (base - top);
    counts.forEach((count, index) => {
      const [from, to] = [across(edges[index] as number), across(edges[index + 1] as number)];
      if (count > 0) doc.lineWidth(0.4).rect(from, up(count), Math.max(0.3, to - from), base - up(count)).fillAndStroke('#cccccc', 'black');
    });
    if (overall) {
      overall.x.forEach((value, index) => { const [px, py] = [across(value), up(overall.count[index] ?? 0)]; if (index === 0) doc.moveTo(px, py); else doc.lineTo(px, py); });
      doc.lineWidth(0.9).strokeColor('black').stroke();
    }
    doc.lineWidth(0.5).moveTo(x, base).lineTo(x + width, base).stroke();
    for (const { name, value } of marks) {
      doc.lineWidth(name === 'target' ? 0.5 : 1.1).dash(name === 'target' ? 1.5 : 5, { space: 2 }).moveTo(across(value), top - 2).lineTo(across(value), base).stroke().undash();
      doc.font('bold').fontSize(6.5).fillColor('black').text(`${words.columns[name]} ${number(value, decimals)}`, Math.min(x + width - 60, Math.max(x, across(value) - 30)), y, { width: 60, align: 'center', lineBreak: false });
    }
    doc.font('plain').fontSize(6.5).fillColor('black').text(number(edges[0] as number, decimals), across(edges[0] as number), base + 3, { lineBreak: false }).text(number(edges.at(-1) as number, decimals), across(edges.at(-1) as number) - 20, base + 3, { lineBreak: false });
  };
}
