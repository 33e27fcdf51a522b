/** Small matrices: rows of numbers. */

export type Matrix = number[][];

export function at(values: ArrayLike<number>, place: number): number {
  return values[place] ?? 0;
}

export function cell(matrix: Matrix, row: number, column: number): number {
  return matrix[row]?.[column] ?? 0;
}

export function set(matrix: Matrix, row: number, column: number, value: number): void {
  const found = matrix[row];
  if (found !== undefined) found[column] = value;
}

export function dot(one: ArrayLike<number>, other: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < one.length; i++) sum += at(one, i) * at(other, i);
  return sum;
}

export function quadratic(one: ArrayLike<number>, matrix: Matrix, other: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < one.length; i++) sum += at(one, i) * dot(matrix[i] ?? [], other);
  return sum;
}

export function solve(matrix: Matrix, values: readonly number[]): number[] {
  const { inverse } = inverted(matrix);
  return inverse.map((row) => dot(row, values));
}

/** Inverse of a covariance by Gauss and Jordan, and the logarithm of its determinant. */
export function inverted(matrix: Matrix): { inverse: Matrix; logDeterminant: number } {
  const size = matrix.length;
  const work = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  let logDeterminant = 0;
  for (let pivot = 0; pivot < size; pivot++) {
    const value = cell(work, pivot, pivot);
    logDeterminant += Math.log(value);
    const row = (work[pivot] ?? []).map((one) => one / value);
    work[pivot] = row;
    for (let other = 0; other < size; other++) {
      if (other === pivot) continue;
      const factor = cell(work, other, pivot);
      work[other] = (work[other] ?? []).map((one, column) => one - factor * at(row, column));
    }
  }
  return { inverse: work.map((row) => row.slice(size)), logDeterminant };
}
