/** The column that never falls and lies nearest to another. */
import { floatAt } from '../../numeric/columns.js';

/**
 * Isotonic regression by pooling neighbours that are out of order (Ayer et al. 1955): least sum of weight times squared difference.
 * Weights must be above 0.
 */
export function increasing(values: Float64Array, weights: Float64Array): Float64Array {
  const size = values.length;
  const [level, weight, end] = [new Float64Array(size), new Float64Array(size), new Int32Array(size)];
  let blocks = 0;
  for (let j = 0; j < size; j++) {
    let [value, heavy] = [floatAt(values, j), floatAt(weights, j)];
    while (blocks > 0 && floatAt(level, blocks - 1) >= value) {
      const before = floatAt(weight, blocks - 1);
      value += (before / (heavy + before)) * (floatAt(level, blocks - 1) - value);
      heavy += before;
      blocks--;
    }
    level[blocks] = value;
    weight[blocks] = heavy;
    end[blocks] = j + 1;
    blocks++;
  }
  const out = new Float64Array(size);
  for (let k = 0, j = 0; k < blocks; k++) {
    for (; j < (end[k] as number); j++) out[j] = floatAt(level, k);
  }
  return out;
}
