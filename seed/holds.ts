import type { Disposition } from '#contract/holds';

export type SeedHoldStep = { afterHours: number; by: string } & (
  | { kind: 'examine'; comment: string }
  | { kind: 'sample'; what: string; share: number; risk: number; examined: number; found: number }
  /** The first so many pallets, or all that are left. */
  | { kind: 'decide'; disposition: Disposition; firstPallets: number | null; reason: string; decidedBy: string; decidedRole: string }
);
/** Hours count from the time at which the incident's cans were made; those of the steps from the moment at which it came in. */
export type SeedHold = {
  incidentCode: string; machineCode: string; unitCode: string | null; laneCode: string | null; fromHour: number; untilHour: number; untilBasis: 'next-good' | 'stop' | 'stated';
  /** One pallet in ten minutes is 0.1. */
  palletsPerMinute: number; prefix: string; reason: string; by: string; steps: readonly SeedHoldStep[];
};

/** Holds of the invented plant's incidents. What became of the product was decided by people each time. */
export const seedHolds: readonly SeedHold[] = [
  {
    incidentCode: 'INC-03', machineCode: 'SM3', unitCode: null, laneCode: null, fromHour: -4, untilHour: 4, untilBasis: 'next-good', palletsPerMinute: 0.05, prefix: 'C31-', by: 'pellow',
    reason: 'Seam thickness high on all heads since the last teardown without a signal; free space not yet known.',
    steps: [
      { kind: 'examine', afterHours: 2, by: 'pellow', comment: 'Plate of end lot 3307 measured, four cans of each head torn down.' },
      { kind: 'sample', afterHours: 20, by: 'pellow', what: 'Air test of cans taken from every held pallet, by random numbers', share: 0.01, risk: 0.05, examined: 300, found: 0 },
      { kind: 'decide', afterHours: 66, by: 'quinta', disposition: 'released', firstPallets: null, reason: 'Free space and tightness measured inside their limits on all heads; end plate 0.228 mm is the reason for the thickness. The customer was asked and agreed.', decidedBy: 'Helene Vossberry', decidedRole: 'Quality manager' },
    ],
  },
  {
    incidentCode: 'INC-05', machineCode: 'SM1', unitCode: 'H7', laneCode: null, fromHour: -3, untilHour: 3, untilBasis: 'next-good', palletsPerMinute: 0.1, prefix: 'A53-', by: 'marrow',
    reason: 'Head 7 from the jam to its re-set. Heads are mixed on the pallets, so each pallet is held whole.',
    steps: [
      { kind: 'examine', afterHours: 3, by: 'marrow', comment: 'Cans with the chuck mark of head 7 sorted out of the first pallets.' },
      { kind: 'sample', afterHours: 24, by: 'sedge', what: 'Cans of head 7 from the first twelve pallets, air test', share: 0.01, risk: 0.05, examined: 120, found: 5 },
      { kind: 'decide', afterHours: 48, by: 'marrow', disposition: 'scrapped', firstPallets: 12, reason: 'Five of 120 cans of head 7 leaked.', decidedBy: 'Helene Vossberry', decidedRole: 'Quality manager' },
      { kind: 'decide', afterHours: 96, by: 'marrow', disposition: 'returned', firstPallets: null, reason: 'The rest was sent back by the packer unfilled and is taken apart for plate.', decidedBy: 'Helene Vossberry', decidedRole: 'Quality manager, with the packer’s process authority' },
    ],
  },
  {
    incidentCode: 'INC-11', machineCode: 'SM2', unitCode: null, laneCode: null, fromHour: -6, untilHour: 6, untilBasis: 'stated', palletsPerMinute: 0.05, prefix: 'B73-', by: 'quinta',
    reason: 'Body hook short on one side of three of twelve complained cans, marks of different heads: the whole day, as far as it is still here.',
    steps: [
      { kind: 'examine', afterHours: 6, by: 'pellow', comment: 'Retained cans of the day torn down head by head.' },
      { kind: 'sample', afterHours: 24, by: 'pellow', what: 'Vacuum test of cans from the pallets still in the plant', share: 0.01, risk: 0.05, examined: 200, found: 0 },
    ],
  },
  {
    incidentCode: 'INC-12', machineCode: 'SM1', unitCode: null, laneCode: null, fromHour: -5, untilHour: 8, untilBasis: 'stated', palletsPerMinute: 0.1, prefix: 'A74-', by: 'marrow',
    reason: 'Slow leakers at the maker’s end, head marks not read yet: the pallets of the day that are still here.', steps: [],
  },
];
