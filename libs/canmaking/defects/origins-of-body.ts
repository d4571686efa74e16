import { origin, type LikelyOrigin } from './origin.js';

const weld = ['weld-overlap', 'weld-thickness'];

/** Likely origins of the defects of weld, flange, body, end and coating. Common practice, no source. */
export const bodyOrigins: Readonly<Record<string, readonly LikelyOrigin[]>> = {
  'cold-weld': [origin('slitter', 0.2, 'lane', 'weld-overlap'), origin('body-maker', 0.8, 'lane', ...weld)],
  'open-weld': [origin('slitter', 0.2, 'lane', 'weld-overlap'), origin('body-maker', 0.8, 'lane', ...weld)],
  splash: [origin('slitter', 0.2, 'lane', 'weld-overlap'), origin('body-maker', 0.8, 'machine', ...weld)],
  pinhole: [origin('slitter', 0.2, 'lane', 'weld-overlap'), origin('body-maker', 0.8, 'machine', ...weld)],
  'weld-step': [origin('slitter', 0.35, 'lane', 'weld-overlap'), origin('body-maker', 0.65, 'lane', ...weld)],
  // Print or lacquer in the margin comes with the sheets; it is met first where they are cut.
  'weld-contamination': [origin('slitter', 0.4, 'lane'), origin('body-maker', 0.6, 'machine', 'weld-thickness')],
  'wide-lap': [origin('slitter', 0.45, 'lane', 'weld-overlap'), origin('body-maker', 0.55, 'machine', ...weld)],
  'narrow-lap': [origin('slitter', 0.45, 'lane', 'weld-overlap'), origin('body-maker', 0.55, 'machine', ...weld)],
  'haz-crack': [origin('body-maker', 0.7, 'machine', ...weld), origin('flanger', 0.3, 'unit', 'flange-width')],
  'flange-crack': [
    origin('slitter', 0.15, 'lane'), origin('body-maker', 0.4, 'lane', ...weld), origin('parter', 0.1, 'lane', 'flange-width'),
    origin('flanger', 0.35, 'unit', 'flange-width'),
  ],
  'torn-flange': [origin('body-maker', 0.35, 'lane', ...weld), origin('flanger', 0.4, 'unit', 'flange-width'), origin('seamer', 0.25, 'machine', 'body-hook')],
  'short-flange': [origin('parter', 0.3, 'lane', 'flange-width', 'body-hook'), origin('flanger', 0.7, 'unit', 'flange-width', 'body-hook')],
  'mushroomed-flange': [origin('flanger', 1, 'unit', 'flange-width', 'body-hook')],
  'uneven-flange': [
    origin('body-maker', 0.2, 'machine', 'weld-overlap'), origin('parter', 0.3, 'lane', 'flange-width'), origin('flanger', 0.5, 'unit', 'flange-width', 'body-hook'),
  ],
  'body-dent': [origin('palletizer', 1, 'machine')],
  'cable-cut': [origin('palletizer', 1, 'machine')],
  'fractured-bead': [origin('body-maker', 0.4, 'machine', 'weld-thickness'), origin('beader', 0.6, 'machine')],
  // Pressure in the packer's retort comes first and is no step of this line; of the line only the end lot is left.
  'peaked-end': [origin('seamer', 1, 'machine', 'countersink', 'seam-thickness')],
  'stripe-void': [origin('body-maker', 0.3, 'machine', 'weld-overlap', 'weld-thickness'), origin('stripe-applicator', 0.7, 'machine', 'stripe-film')],
  'thin-stripe': [origin('stripe-applicator', 0.9, 'machine', 'stripe-film'), origin('curing-oven', 0.1, 'machine', 'stripe-film')],
  'stripe-delamination': [
    origin('body-maker', 0.3, 'machine', 'weld-thickness'), origin('stripe-applicator', 0.3, 'machine', 'stripe-film'), origin('curing-oven', 0.4, 'machine'),
  ],
};
