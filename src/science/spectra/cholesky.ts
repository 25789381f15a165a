/**
 * Solves A X = B for a symmetric positive definite A (n × n, row by row) and B (n × m, row by row) by Cholesky's factors.
 * Both are overwritten; the answer is in `into`. Throws RangeError where A is not positive definite.
 */
export function solvePositive(a: Float64Array, n: number, into: Float64Array, m: number): void {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= a[i * n + k]! * a[j * n + k]!;
      if (i === j) {
        if (!(sum > 0)) throw new RangeError(`matrix: positive definite is needed, pivot ${i} is ${sum}`);
        a[i * n + i] = Math.sqrt(sum);
      } else a[i * n + j] = sum / a[j * n + j]!;
    }
  }
  for (let c = 0; c < m; c++) {
    for (let i = 0; i < n; i++) {
      let sum = into[i * m + c]!;
      for (let k = 0; k < i; k++) sum -= a[i * n + k]! * into[k * m + c]!;
      into[i * m + c] = sum / a[i * n + i]!;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = into[i * m + c]!;
      for (let k = i + 1; k < n; k++) sum -= a[k * n + i]! * into[k * m + c]!;
      into[i * m + c] = sum / a[i * n + i]!;
    }
  }
}
