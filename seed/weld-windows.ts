export type SeedWeldWindow = {
  lineCode: string; machineCode: string | null; productCode: string; characteristicCode: string; lower: number; upper: number; material: string; speed: number; wire: string;
  /** Day of the scenario and hour of its first shift; days below 0 lie before the records. */
  tested: { day: number; hour: number }; testedBy: string; evidence: string; reason: string;
};

const wire = 'flattened copper wire, profile of the line';

/** Window tests of the demo plant, oldest first in each place. All invented; no builder's or supplier's table stands behind them. */
export const seedWeldWindows: readonly SeedWeldWindow[] = [
  { lineCode: 'L1', machineCode: 'BM11', productCode: 'A65', characteristicCode: 'weld-current', lower: 3150, upper: 3470, material: '0.15 mm plate, tin 2.8/2.8 g/m²', speed: 101, wire, tested: { day: -3, hour: 1 }, testedBy: 'Anneke Sedgelow', evidence: 'Ten bodies torn whole at 3150 A, two of ten torn off at 3140 A; no splash on ten bodies at 3470 A.', reason: 'First window test with this plate' },
  { lineCode: 'L1', machineCode: 'BM11', productCode: 'A65', characteristicCode: 'weld-current', lower: 3160, upper: 3470, material: '0.15 mm plate, tin 2.8/2.8 g/m², coil 7721', speed: 101, wire, tested: { day: 40, hour: 2.7 }, testedBy: 'Femi Okorandu', evidence: 'Ten bodies torn whole at 3160 A with coil 7721. With coil 7716 before it the first ten held only from 3230 A on.', reason: 'Repeated after the cold welds of coil 7716' },
  { lineCode: 'L1', machineCode: 'BM12', productCode: 'A65', characteristicCode: 'weld-current', lower: 3170, upper: 3480, material: '0.15 mm plate, tin 2.8/2.8 g/m²', speed: 101, wire, tested: { day: -3, hour: 4 }, testedBy: 'Anneke Sedgelow', evidence: 'Ten bodies torn whole at 3170 A; no splash on ten bodies at 3480 A.', reason: 'First window test with this plate' },
  { lineCode: 'L2', machineCode: null, productCode: 'B73', characteristicCode: 'weld-current', lower: 3150, upper: 3600, material: '0.16 mm plate, tin 2.8/2.8 g/m²', speed: 46, wire, tested: { day: -10, hour: 2 }, testedBy: 'Anneke Sedgelow', evidence: 'Both body makers: ten bodies torn whole at 3150 A, no splash on ten bodies at 3600 A.', reason: 'First window test with this plate' },
  { lineCode: 'L3', machineCode: 'BM31', productCode: 'C99', characteristicCode: 'weld-current', lower: 3350, upper: 3850, material: '0.18 mm plate, tin 2.8/2.8 g/m²', speed: 36, wire, tested: { day: -8, hour: 3 }, testedBy: 'Rui Pellowez', evidence: 'Ten bodies torn whole at 3350 A, no splash on ten bodies at 3850 A.', reason: 'First window test with this plate' },
];
