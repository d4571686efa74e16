/** How the records of a line are drawn: colours of Okabe and Ito (2002); each kind has a shape of its own as well. */
export const RECORD_MARKS = {
  check: { symbol: 'circle-open', color: '#7f7f7f', size: 9 }, missed: { symbol: 'line-ew-open', color: '#E69F00', size: 12 }, event: { symbol: 'triangle-up', color: '#0072B2', size: 11 }, signal: { symbol: 'diamond', color: '#D55E00', size: 13 },
} as const;
