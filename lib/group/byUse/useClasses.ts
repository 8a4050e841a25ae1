/** Positions of a group put into classes of those that are used about alike. */

/** Positions used about alike. */
export interface UseClass {
  /** Indices of positions, in ascending order. */
  positions: number[];
  /** Least and most counts a day of its positions. */
  least: number;
  most: number;
  /** Counts a day that stand for them. */
  perDay: number;
}

/** No position is used more than this share more or less than the (geometric) middle of its class. */
const WIDEST = 0.12;

/**
 * Classes from the least used on, each as wide as its positions stay within 12 % of its middle; none is empty. `shape` is that of the
 * wear-out: the rate that stands for a class is the one at which its leaks before an age, which go with rate^shape, are those of its
 * positions together. Preconditions: rates above 0.
 */
export function useClasses(rates: ReadonlyMap<number, number>, shape: number): UseClass[] {
  const sorted = [...rates].sort(([p, a], [q, b]) => a - b || p - q);
  const classes: UseClass[] = [];
  let open: [position: number, rate: number][] = [];
  let logs = 0;
  const close = (): void => {
    if (open.length > 0) classes.push(classOf(open, shape));
    [open, logs] = [[], 0];
  };
  for (const each of sorted) {
    const [, rate] = each;
    const middle = Math.exp((logs + Math.log(rate)) / (open.length + 1));
    const [, least] = open[0] ?? each;
    if (rate / middle > 1 + WIDEST || middle / least > 1 + WIDEST) close();
    open.push(each);
    logs += Math.log(rate);
  }
  close();
  return classes;
}

function classOf(members: readonly [position: number, rate: number][], shape: number): UseClass {
  const rates = members.map(([, rate]) => rate);
  const [least, most] = [Math.min(...rates), Math.max(...rates)];
  const power = rates.reduce((sum, rate) => sum + (rate / least) ** shape, 0) / rates.length;
  return {
    positions: members.map(([position]) => position).sort((a, b) => a - b),
    least,
    most,
    // Where all are used alike it is their rate to the last digit.
    perDay: least === most ? least : least * power ** (1 / shape),
  };
}

/** The class whose rate is nearest on the log scale; -1 without a rate. */
export function nearestClass(classes: readonly UseClass[], rate: number): number {
  if (!(rate > 0)) return -1;
  let nearest = -1;
  classes.forEach(({ perDay }, c) => {
    const far = Math.abs(Math.log(rate / perDay));
    const best = nearest < 0 ? Infinity : Math.abs(Math.log(rate / (classes[nearest] as UseClass).perDay));
    if (far < best) nearest = c;
  });
  return nearest;
}
