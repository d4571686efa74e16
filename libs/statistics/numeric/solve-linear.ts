/**
 * The x of A x = b by Gaussian elimination with partial pivoting.
 * Source: Golub & Van Loan, Matrix Computations, algorithm 3.4.1. The inputs are left as they are.
 * @param matrix n rows of n numbers
 * @param rhs n numbers
 * @throws RangeError when the shapes do not fit, a number is not finite, or the matrix is singular to working precision
 */
export function solveLinear(matrix: readonly ArrayLike<number>[], rhs: ArrayLike<number>): Float64Array {
  const n = matrix.length;
  if (n === 0 || rhs.length !== n || matrix.some((row) => row.length !== n)) {
    throw new RangeError(`solveLinear: needs a square matrix and as many right-hand sides, ${n} rows and ${rhs.length} given`);
  }
  const rows: Float64Array[] = matrix.map((row) => Float64Array.from(row));
  const x = Float64Array.from(rhs);
  if (!x.every(Number.isFinite) || !rows.every((row) => row.every(Number.isFinite))) throw new RangeError('solveLinear: needs finite numbers, NaN or infinity given');
  const scale = rows.map((row) => row.reduce((most, value) => Math.max(most, Math.abs(value)), 0));
  for (let k = 0; k < n; k += 1) {
    let pivot = k;
    for (let i = k + 1; i < n; i += 1) if (Math.abs((rows[i] as Float64Array)[k] as number) > Math.abs((rows[pivot] as Float64Array)[k] as number)) pivot = i;
    [rows[k], rows[pivot]] = [rows[pivot] as Float64Array, rows[k] as Float64Array];
    [x[k], x[pivot]] = [x[pivot] as number, x[k] as number];
    [scale[k], scale[pivot]] = [scale[pivot] as number, scale[k] as number];
    const top = rows[k] as Float64Array;
    const head = top[k] as number;
    if (!(Math.abs(head) > (scale[k] as number) * n * Number.EPSILON)) throw new RangeError('solveLinear: needs a matrix of full rank, a singular one given');
    for (let i = k + 1; i < n; i += 1) {
      const row = rows[i] as Float64Array;
      const factor = (row[k] as number) / head;
      if (factor === 0) continue;
      for (let j = k + 1; j < n; j += 1) row[j] = (row[j] as number) - factor * (top[j] as number);
      x[i] = (x[i] as number) - factor * (x[k] as number);
    }
  }
  for (let k = n - 1; k >= 0; k -= 1) {
    const row = rows[k] as Float64Array;
    let sum = x[k] as number;
    for (let j = k + 1; j < n; j += 1) sum -= (row[j] as number) * (x[j] as number);
    x[k] = sum / (row[k] as number);
  }
  if (!x.every(Number.isFinite)) throw new RangeError('solveLinear: needs numbers of like size, the solution given by these is beyond the range of numbers');
  return x;
}
