/** How colours look in grey and to eyes with one kind of cone missing, and how far apart two of them are. */

type Three = readonly [number, number, number];

/** Simulation of a missing kind of cone, on linear red, green and blue (Machado, Oliveira & Fernandes 2009, table 1, severity 1). */
const EYES = {
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
} as const;

export const SIGHTS = ['grey', 'protanopia', 'deuteranopia'] as const;
export type Sight = (typeof SIGHTS)[number];

/** Linear red, green and blue of "#rrggbb" (IEC 61966-2-1). */
export function linear(colour: string): Three {
  const part = (i: number): number => {
    const value = Number.parseInt(colour.slice(i, i + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [part(1), part(3), part(5)];
}

export function luminance([red, green, blue]: Three): number {
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** A colour as a sight has it, still linear. */
function seen(colour: Three, sight: Sight): Three {
  if (sight === 'grey') {
    const grey = luminance(colour);
    return [grey, grey, grey];
  }
  const [r, g, b] = colour;
  return EYES[sight].map(([x, y, z]) => Math.min(1, Math.max(0, x * r + y * g + z * b))) as unknown as Three;
}

/** CIE L*a*b* for the white of a screen (D65). */
export function lab([r, g, b]: Three): Three {
  const curve = (t: number): number => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);
  const x = curve((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.95047);
  const y = curve(luminance([r, g, b]));
  const z = curve((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.08883);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

/** Distance of two colours in L*a*b* as a sight has them (CIE 1976). */
export function apart(one: string, other: string, sight: Sight): number {
  const [a, b] = [lab(seen(linear(one), sight)), lab(seen(linear(other), sight))];
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

/** Contrast of two colours (WCAG 2). */
export function contrast(one: string, other: string): number {
  const [a, b] = [luminance(linear(one)), luminance(linear(other))];
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}
