import type { Panel } from '#statistics/charts/panel';
import type { PackFormat } from '../words/format.js';
import type { Draw } from './pdf-paper.js';

/** More points than this stand too close for a mark each; the line stays. */
const MOST_MARKS = 250;
const LABEL = 74;

/** Two panels one above the other: a line with dots, limits dashed, a triangle beyond a limit. Shapes and words, no colour. */
export function drawChart(panels: readonly [Panel, Panel], decimals: number, { words, number }: PackFormat): Draw {
  return (doc, box) => {
    const half = (box.height - 14) / 2;
    for (const [index, panel] of panels.entries()) drawPanel(panel, { ...box, y: box.y + index * (half + 14), height: half });

    function drawPanel(panel: Panel, { x, y, width, height }: typeof box): void {
      const top = y + 10;
      const plot = { width: width - LABEL, height: height - 12 };
      const values = [...panel.points, ...panel.lower, ...panel.upper, ...panel.centre].filter((value) => value !== null);
      const low = values.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
      const high = values.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
      const pad = (high - low || Math.abs(high) || 1) * 0.06;
      const at = (value: number) => top + plot.height - ((value - low + pad) / (high - low + 2 * pad)) * plot.height;
      const across = (index: number) => x + (panel.points.length === 1 ? plot.width / 2 : (index / (panel.points.length - 1)) * (plot.width - 8) + 4);
      doc.font('bold').fontSize(7).fillColor('black').text(words.chart[panel.statistic as 'mean'] ?? panel.statistic, x, y, { lineBreak: false });
      doc.lineWidth(0.4).strokeColor('black').rect(x, top, plot.width, plot.height).stroke();
      for (const line of ['upper', 'centre', 'lower'] as const) {
        doc.lineWidth(line === 'centre' ? 0.5 : 0.7);
        if (line === 'centre') doc.undash(); else doc.dash(4, { space: 2 });
        stepped(panel[line], across, at);
        const last = panel[line].findLast((value) => value !== null);
        if (last !== null && last !== undefined) doc.undash().font('plain').fontSize(6.5).text(`${words.chart[line]} ${number(last, decimals)}`, x + plot.width + 3, at(last) - 4, { lineBreak: false });
      }
      doc.undash().lineWidth(0.6);
      let isOpen = false;
      panel.points.forEach((value, index) => {
        if (value === null) { isOpen = false; return; }
        if (isOpen) doc.lineTo(across(index), at(value)); else doc.moveTo(across(index), at(value));
        isOpen = true;
      });
      doc.stroke();
      if (panel.points.length <= MOST_MARKS) panel.points.forEach((value, index) => { if (value !== null) doc.circle(across(index), at(value), 1.3).fill('black'); });
      for (const { index } of panel.out) {
        const [px, py] = [across(index), at(panel.points[index] as number)];
        doc.lineWidth(0.7).polygon([px, py - 4.5], [px - 4, py + 2.5], [px + 4, py + 2.5]).fillAndStroke('white', 'black');
      }
    }

    function stepped(line: Panel['upper'], across: (index: number) => number, at: (value: number) => number): void {
      let before: number | null = null;
      line.forEach((value, index) => {
        if (value === null) { before = null; return; }
        if (before === null) doc.moveTo(across(index), at(value));
        else if (before !== value) doc.lineTo(across(index), at(before)).lineTo(across(index), at(value));
        if (index === line.length - 1 || line[index + 1] === null) doc.lineTo(across(index) + 0.5, at(value));
        before = value;
      });
      doc.strokeColor('black').stroke();
    }
  };
}
