/** An exact fraction in lowest terms, `d` positive: `{ n: 3, d: 8 }` is three eighths. */
export interface Fraction {
  readonly n: number;
  readonly d: number;
}

const divisor = (a: number, b: number): number => {
  let x = Math.abs(a);
  let y = b;
  while (y !== 0) {
    const rest = x % y;
    x = y;
    y = rest;
  }
  return x;
};

/** `n / d` in lowest terms. `d` may not be 0. */
export function fraction(n: number, d = 1): Fraction {
  const by = divisor(n, Math.abs(d)) * (d < 0 ? -1 : 1);
  return { n: n / by || 0, d: d / by };
}

export const zero: Fraction = { n: 0, d: 1 };
export const one: Fraction = { n: 1, d: 1 };

export function plus(a: Fraction, b: Fraction): Fraction {
  if (b.n === 0) return a;
  if (a.n === 0) return b;
  // A whole number leaves the other in lowest terms, and most bars start on one.
  if (a.d === 1) return b.d === 1 ? { n: a.n + b.n, d: 1 } : { n: a.n * b.d + b.n, d: b.d };
  if (b.d === 1) return { n: a.n + b.n * a.d, d: a.d };
  return a.d === b.d ? fraction(a.n + b.n, a.d) : fraction(a.n * b.d + b.n * a.d, a.d * b.d);
}
export function minus(a: Fraction, b: Fraction): Fraction {
  if (b.d === 1) return { n: a.n - b.n * a.d, d: a.d };
  if (a.d === 1) return { n: a.n * b.d - b.n, d: b.d };
  return a.d === b.d ? fraction(a.n - b.n, a.d) : fraction(a.n * b.d - b.n * a.d, a.d * b.d);
}
export const times = (a: Fraction, by: number): Fraction => fraction(a.n * by, a.d);
export const over = (a: Fraction, by: number): Fraction => fraction(a.n, a.d * by);
export const divide = (a: Fraction, b: Fraction): Fraction => fraction(a.n * b.d, a.d * b.n);

/** Negative where `a` is less, 0 where both are equal, positive where `a` is more. */
export const compare = (a: Fraction, b: Fraction): number =>
  a.d === b.d ? a.n - b.n : a.n * b.d - b.n * a.d;
export const isEqual = (a: Fraction, b: Fraction): boolean => a.n === b.n && a.d === b.d;

/** `"3/8"`, `"-1/4"`, and whole numbers alone: `"0"`, `"2"`. */
export const printFraction = ({ n, d }: Fraction): string => (d === 1 ? `${n}` : `${n}/${d}`);
