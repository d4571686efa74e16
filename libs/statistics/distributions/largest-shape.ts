/**
 * Largest shape of a beta or gamma function that is computed (degrees of freedom are twice a shape). Series and fractions
 * take about as many terms as the root of the shape; beyond this they would not end in time, nor keep their digits.
 */
export const LARGEST_SHAPE = 1e9;
