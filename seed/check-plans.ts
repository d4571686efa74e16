import type { SeedCheckPlan, SeedLine } from './plant-types.js';

const commonPractice = 'common practice, no source';
const advisory = 'at most 4 h is advised (should, not shall) by 21 CFR 113.60(a)(1), 2015 edition; the plant chose the same';

type Opened = Pick<SeedCheckPlan, 'openedBy' | 'longStopMinutes' | 'eventsSource'>;
const afterWelderWork: Opened = { openedBy: ['coil-change', 'wire-change', 'roll-change'], longStopMinutes: null, eventsSource: commonPractice };
const afterSeamerWork: Opened = { openedBy: ['jam', 'tooling-set', 'end-lot-change'], longStopMinutes: null, eventsSource: 'checks after a jam and an adjustment are advised by 21 CFR 113.60(a), 2015 edition; the plant adds the change of end lot' };
const byIntervalAlone: Opened = { openedBy: [], longStopMinutes: null, eventsSource: '' };

type Sheet = Omit<SeedCheckPlan, 'code' | 'name' | 'machineCode' | 'productCode' | 'gaugeByCharacteristic' | 'perLane'> & { suffix: string; label: string };

const weld: Sheet = {
  suffix: 'weld', label: 'Weld check', cans: 5, perUnit: false, positions: ['front', 'middle', 'back'], characteristics: ['weld-overlap', 'weld-thickness'],
  derived: [], everyMinutes: 90, firstAfterMinutes: 20, intervalSource: commonPractice, ...afterWelderWork,
};
// Read off the display and written down; only the double-high line keeps this sheet.
const current: Sheet = {
  suffix: 'current', label: 'Current display', cans: 1, perUnit: false, positions: ['display'], characteristics: ['weld-current'],
  derived: [], everyMinutes: 240, firstAfterMinutes: 40, intervalSource: commonPractice, ...byIntervalAlone,
};
const stripe: Sheet = {
  suffix: 'stripe', label: 'Stripe film', cans: 3, perUnit: false, positions: ['front', 'middle', 'back'], characteristics: ['stripe-film'],
  derived: [], everyMinutes: 240, firstAfterMinutes: 80, intervalSource: commonPractice, ...byIntervalAlone,
};
const flange: Sheet = {
  suffix: 'flange', label: 'Flange width', cans: 1, perUnit: true, positions: ['beside weld', '90°', '180°', '270°'], characteristics: ['flange-width'],
  derived: [], everyMinutes: 120, firstAfterMinutes: 50, intervalSource: commonPractice, ...byIntervalAlone,
};
const teardown: Sheet = {
  suffix: 'teardown', label: 'Seam teardown', cans: 1, perUnit: true, positions: ['60°', '180°', '300°'],
  characteristics: ['seam-thickness', 'seam-length', 'body-hook', 'cover-hook', 'countersink'],
  derived: ['seam-overlap', 'percent-overlap', 'body-hook-butting', 'free-space'], everyMinutes: 240, firstAfterMinutes: 30, intervalSource: advisory, ...afterSeamerWork,
};
// The wrinkle is judged once a hook, not at each point, so tightness is a sheet of its own beside the teardown.
const tightness: Sheet = {
  suffix: 'tightness', label: 'Tightness', cans: 1, perUnit: true, positions: ['worst wrinkle'], characteristics: ['tightness'],
  derived: [], everyMinutes: 240, firstAfterMinutes: 30, intervalSource: advisory, ...byIntervalAlone,
};

const sheetsOfStep: Partial<Record<SeedLine['steps'][number]['kind'], Sheet[]>> = {
  'body-maker': [weld, current], 'stripe-applicator': [stripe], flanger: [flange], seamer: [teardown, tightness],
};

/** One plan for each machine and sheet. Only the weld keeps the halves of a double-high body apart. */
export function checkPlansFor(lines: readonly SeedLine[]): SeedCheckPlan[] {
  return lines.flatMap((line) => line.steps.flatMap((step) => (sheetsOfStep[step.kind] ?? []).filter((sheet) => sheet !== current || line.lanes.length > 0).flatMap((sheet) =>
    step.machines.map((machine, index) => {
      const { suffix, label, ...rest } = sheet;
      return {
        ...rest, code: `${machine.code}-${suffix}`, name: `${label} ${machine.code}`, machineCode: machine.code, productCode: line.productCode,
        perLane: sheet === weld && line.lanes.length > 0,
        // Two machines of one step are visited one after the other.
        firstAfterMinutes: sheet.firstAfterMinutes + index * 12,
        gaugeByCharacteristic: Object.fromEntries(sheet.characteristics.map((code) => [code, gaugeFor(code, line.code)])),
      };
    }))));
}

const gauges: Record<string, string> = {
  'weld-overlap': 'G-LOUPE', 'weld-thickness': 'G-BALL-MIC', 'weld-current': 'G-AMP', 'stripe-film': 'G-FILM', 'flange-width': 'G-FLANGE', 'seam-thickness': 'G-SEAM-MIC',
  'seam-length': 'G-PROJ', 'body-hook': 'G-PROJ', 'cover-hook': 'G-PROJ', countersink: 'G-CSINK', tightness: 'G-WRINKLE',
};

// Lines 1 and 2 share a bench; line 3 stands in the other hall and has its own set.
function gaugeFor(characteristicCode: string, lineCode: string): string {
  return `${gauges[characteristicCode] ?? 'G-UNKNOWN'}-${lineCode === 'L3' ? 2 : 1}`;
}
