/** Nodes and weights for means over a standard normal number; weights add up to 1. */
export function gaussHermite(count: number): { nodes: number[]; weights: number[] } {
  // Roots of the Hermite function of this degree, which never overflows: bracketed on a fine grid, then bisected.
  const value = (x: number): [number, number] => {
    let before = 0;
    let now = Math.PI ** -0.25;
    for (let j = 1; j <= count; j++) {
      [before, now] = [now, x * Math.sqrt(2 / j) * now - Math.sqrt((j - 1) / j) * before];
    }
    return [now, before];
  };
  const reach = Math.sqrt(2 * count + 1);
  const step = reach / (60 * count);
  const nodes: number[] = [];
  const weights: number[] = [];
  for (let left = -reach; left < reach; left += step) {
    if (Math.sign(value(left)[0]) === Math.sign(value(left + step)[0])) continue;
    let [low, high] = [left, left + step];
    for (let turn = 0; turn < 60; turn++) {
      const middle = (low + high) / 2;
      if (Math.sign(value(middle)[0]) === Math.sign(value(low)[0])) low = middle;
      else high = middle;
    }
    const slope = Math.sqrt(2 * count) * value(low)[1];
    nodes.push(Math.SQRT2 * low);
    weights.push(2 / (slope * slope) / Math.sqrt(Math.PI));
  }
  return { nodes, weights };
}
